// The salon's devices as its server knows them, and the code that pairs another one.

import type { CodeOffered, Devices, KnownDevice } from "../api/shapes";
import { call } from "./call";
import { caller } from "./position";

export type { CodeOffered, KnownDevice };

/** Returns the paired devices, last heard first; none while the server is out of reach. */
export async function devices_of_salon(): Promise<readonly KnownDevice[]> {
  const here = await caller();
  if (!here) return [];
  try {
    const { devices } = await call<Devices>("/api/devices", here.pairing);
    return devices
      .filter(({ revoked_at }) => !revoked_at)
      .sort((a, b) => (b.last_seen_at ?? "").localeCompare(a.last_seen_at ?? ""));
  } catch {
    return [];
  }
}

/** Whether this page was opened on the server's own machine, the only place that gives a code. */
export const is_at_the_desk = /^(localhost|127\.|\[::1\])/.test(
  globalThis.location?.hostname ?? "",
);
