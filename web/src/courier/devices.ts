// The salon's devices as its server knows them, and the code that pairs another one.

import type { CodeOffered, Devices, KnownDevice } from "../api/shapes";
import { call, Trouble } from "./call";
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

/** Removes another device; returns nothing, or the sentence that says why that was not done. */
export async function remove_device(device_id: string): Promise<string> {
  const here = await caller();
  if (!here) return "Pair this browser first.";
  try {
    const { token } = here.pairing;
    await call<KnownDevice>(`/api/devices/${device_id}`, { token, method: "DELETE" });
    return "";
  } catch (why) {
    if (why instanceof Trouble) return why.message;
    throw why;
  }
}

/** Returns the id of this browser among the devices; empty before it was paired. */
export async function own_device_id(): Promise<string> {
  return (await caller())?.pairing.device_id ?? "";
}

/** Whether this page was opened on the server's own machine, the only place that gives a code. */
export const is_at_the_desk = /^(localhost|127\.|\[::1\])/.test(
  globalThis.location?.hostname ?? "",
);

/** Returns a code for another phone, or the sentence that says why there is none. */
export async function code_for_a_phone(): Promise<CodeOffered | string> {
  const here = await caller();
  if (!here) return "Pair this browser first.";
  try {
    const { token } = here.pairing;
    return await call<CodeOffered>("/api/devices/codes", { token, body: { v: 1 } });
  } catch (why) {
    if (why instanceof Trouble) return why.message;
    throw why;
  }
}
