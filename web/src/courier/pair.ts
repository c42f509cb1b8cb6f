// Pairs this phone with a salon: it trades a code from the desk for a token.

import type { KnownDevice, Paired } from "../api/shapes";
import { keep, recall } from "../device/kept";
import { time_of_day } from "../device/when";
import { with_database, write_at_once } from "../outbox/database";
import { type Device, new_device } from "../outbox/device";
import type { Pairing } from "../outbox/position";
import { in_demo } from "../outbox/world";
import { look_again, state_of, tell_other_windows } from "../records/read";
import { together } from "../records/write";
import { call, Trouble } from "./call";
import { count_waiting, POSITION_START, read_position } from "./position";

export type { Pairing };

/** Thrown if this phone cannot be paired now; says what to do. */
export class NotPairedYet extends Error {}

// Beside the settings: a browser may leave it there when it empties the records' store.
const NAME_HERE = "paired_device";

/** Returns this phone's name at the salon, or undefined before it was paired. */
export async function pairing_here(): Promise<Pairing | undefined> {
  return (await with_database((opened) => opened.get("meta", "pairing"))) as Pairing | undefined;
}

/**
 * Pairs this phone by a code. Returns what an emptied phone had lost, in words, or nothing. A phone
 * that was paired before keeps its name, its numbers and its waiting entries. Throws `NotPairedYet`
 * or `Trouble`.
 */
export async function pair(code: string, name: string): Promise<string | undefined> {
  if (in_demo)
    throw new NotPairedYet("Invented people never go to a desk. Remove the demo day first.");
  const before = await pairing_here();
  const device = await device_here();
  const body = { v: 1, code: code.trim(), device_id: device.device_id, name: name.trim() };
  const paired = await call<Paired>("/api/devices/pair", { body }).catch(in_words);
  if (before && before.salon_id !== paired.salon_id) {
    throw new NotPairedYet(
      "This phone holds another salon’s records. Save them as a file and clear this site’s storage in the browser. Then pair it here.",
    );
  }
  const pairing: Pairing = {
    token: paired.token,
    salon_id: paired.salon_id,
    device_id: device.device_id,
    name: body.name,
    paired_at: new Date().toISOString(),
  };
  await write_at_once(["meta"], async (writing) => {
    const meta = writing.objectStore("meta");
    const position = await read_position(meta);
    await meta.put(pairing, "pairing");
    await meta.put(position.epoch ? position : { ...POSITION_START, epoch: paired.epoch }, "post");
  });
  const { device_id } = device;
  const named = { kind: "device" as const, id: device_id, fields: { name: body.name } };
  const made = state_of(device_id) !== undefined;
  await together([made ? { do: "change", ...named } : { do: "create", ...named }], null);
  const lost = await loss_of(recall(NAME_HERE, ""), pairing).catch(() => undefined);
  keep(NAME_HERE, device_id);
  await look_again();
  tell_other_windows({ came_in: true });
  return lost;
}

/** This phone's identity, made now if nothing was written on it yet. */
async function device_here(): Promise<Device> {
  return write_at_once(["meta"], async (writing) => {
    const meta = writing.objectStore("meta");
    const device = ((await meta.get("device")) as Device | undefined) ?? new_device();
    await meta.put(device, "device");
    return device;
  });
}

/** The entries that the phone had reported before it was emptied, and never sent. */
async function loss_of(
  device_before: string,
  { device_id, token }: Pairing,
): Promise<string | undefined> {
  if (!device_before || device_before === device_id) return undefined;
  const { devices } = await call<{ devices: KnownDevice[] }>("/api/devices", { token });
  const known = devices.find((each) => each.device_id === device_before);
  if (!known || known.queued === 0) return undefined;
  const at = new Date(known.last_seen_at ?? "");
  const time = time_of_day(at.getTime());
  const entries = known.queued === 1 ? "1 entry" : `${known.queued} entries`;
  return `This phone was emptied. It last reported ${entries} waiting, on ${at.toLocaleDateString()} at ${time}. They did not arrive.`;
}

/** Ends the pairing; refuses while only this phone holds some entry. */
export async function leave_salon(): Promise<void> {
  const waiting = await count_waiting();
  if (waiting > 0) {
    const entries = waiting === 1 ? "1 entry is" : `${waiting} entries are`;
    throw new NotPairedYet(
      `${entries} only on this phone. Send them first, or save everything as a file.`,
    );
  }
  await write_at_once(["meta"], async (writing) => {
    const meta = writing.objectStore("meta");
    const pairing = (await meta.get("pairing")) as Pairing | undefined;
    if (pairing) await meta.put({ ...pairing, token: "" }, "pairing");
  });
  await look_again([]);
}

function in_words(why: unknown): never {
  if (!(why instanceof Trouble)) throw why;
  if (why.status === 0) {
    throw new NotPairedYet(
      "The salon’s server does not answer. Open this page from the salon’s own network, then try again.",
    );
  }
  if (why.status === 404) {
    throw new NotPairedYet("This server is too old to pair phones. Update it first.");
  }
  if (why.status === 400 || why.status === 422) {
    throw new NotPairedYet(
      "A code has eight letters and digits, such as K7QF-29XM. Type it again.",
    );
  }
  throw new NotPairedYet(why.message);
}
