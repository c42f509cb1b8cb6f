// Refused entries that need a person: each stays until somebody sends it again, changes it or
// deletes it.
import { signal } from "@preact/signals";
import { v7 as uuidv7 } from "uuid";
import { stamp_text, tick } from "../outbox/clock";
import { with_database, write_at_once } from "../outbox/database";
import type { Device } from "../outbox/device";
import type { Fields, Operation } from "../outbox/operation";
import type { InTray } from "../outbox/position";
import { look_again, tell_other_windows } from "../records/read";

/** The refused operations, by their id. */
export const tray = signal<readonly (InTray & { id: string })[]>([]);

/** Reads the tray again. */
export async function read_tray(): Promise<void> {
  tray.value = await with_database(async (opened) => {
    const store = opened.transaction("tray").store;
    const [ids, rows] = await Promise.all([store.getAllKeys(), store.getAll()]);
    return rows.map((row, at) => ({ ...row, id: ids[at] as string }));
  });
}

/**
 * Sends a refused operation again with these fields, as a new one that names the old. It leaves the
 * tray in the same transaction, so that a second tap sends nothing twice.
 */
export async function send_again(id: string, fields: Fields): Promise<void> {
  const entity_id = await write_at_once(["meta", "outbox", "tray"], async (writing) => {
    const meta = writing.objectStore("meta");
    const row = await writing.objectStore("tray").get(id);
    const device = (await meta.get("device")) as Device | undefined;
    if (!row?.op || !device) return undefined;
    const clock = tick(device.clock, Date.now());
    const device_seq = device.device_seq + 1;
    const hlc = stamp_text(clock, device.device_id);
    const { orig: _, ...before } = row.op;
    const op: Operation = { ...before, op_id: uuidv7(), device_seq, hlc, fields, amends: id };
    await writing.objectStore("outbox").put(op, device_seq);
    await meta.put({ ...device, device_seq, clock }, "device");
    await writing.objectStore("tray").delete(id);
    return op.entity_id;
  });
  if (entity_id) {
    await look_again([entity_id]);
    tell_other_windows({ came_in: true, ids: [entity_id] });
  }
  await read_tray();
}

/** Deletes a refused operation for good; only a person may, never time. */
export async function let_go(id: string): Promise<void> {
  await write_at_once(["tray"], (writing) => writing.objectStore("tray").delete(id));
  await read_tray();
}
