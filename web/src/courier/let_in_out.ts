// Lets a device into the salon, and takes one off its list. Apart from devices.ts, since the desk
// loads that one first.
import type { CodeOffered, KnownDevice } from "../api/shapes";
import { type Asked, call, Trouble } from "./call";
import { caller } from "./position";

/** Removes another device; returns it, or the sentence that says why that was not done. */
export async function remove_device(device_id: string): Promise<KnownDevice | string> {
  return await asked_here(`/api/devices/${device_id}`, { method: "DELETE" });
}

/** Returns the id of this browser among the devices; empty before it was paired. */
export async function own_device_id(): Promise<string> {
  return (await caller())?.pairing.device_id ?? "";
}

/** Returns a code for another phone, or the sentence that says why there is none. */
export async function code_for_a_phone(): Promise<CodeOffered | string> {
  return await asked_here("/api/devices/codes", { body: { v: 1 } });
}

/** Asks as this device; returns the answer, or the sentence that says why there is none. */
async function asked_here<Answer>(path: string, asked: Asked): Promise<Answer | string> {
  const here = await caller();
  if (!here) return "Pair this browser first.";
  try {
    return await call<Answer>(path, { ...asked, token: here.pairing.token });
  } catch (why) {
    if (why instanceof Trouble) return why.message;
    throw why;
  }
}
