// Lets a device into the salon, and takes one off its list. Apart from devices.ts, since the desk
// loads that one first.
import type { CodeOffered, KnownDevice } from "../api/shapes";
import { call, Trouble } from "./call";
import { caller } from "./position";

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
