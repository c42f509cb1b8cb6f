// The salon's devices as its server knows them, and the code that pairs another one.

import type { CodeOffered, Devices, KnownDevice } from "../api/shapes";
import { call } from "./call";
import { caller } from "./position";

export type { CodeOffered, KnownDevice };

/**
 * Returns every device ever paired: last heard first, and the removed ones at the end.
 *
 * It returns none while the server is out of reach.
 */
export async function devices_of_salon(): Promise<readonly KnownDevice[]> {
  const here = await caller();
  if (!here) return [];
  try {
    const { devices } = await call<Devices>("/api/devices", here.pairing);
    const heard = ({ last_seen_at, revoked_at }: KnownDevice) =>
      `${revoked_at ? "" : "here "}${last_seen_at ?? ""}`;
    return devices.sort((a, b) => heard(b).localeCompare(heard(a)));
  } catch {
    return [];
  }
}

/** Whether this page was opened on the server's own machine, the only place that gives a code. */
export const is_at_the_desk = /^(localhost|127\.|\[::1\])/.test(
  globalThis.location?.hostname ?? "",
);
