// Keeps the receipts of a batch in the one transaction that takes its operations out of the outbox.
// Accepted ones go to `sent`, refused ones to the tray.
import { v7 as uuidv7 } from "uuid";
import type { Pushed } from "../api/shapes";
import { read_stamp } from "../outbox/clock";
import { write_at_once } from "../outbox/database";
import type { Device } from "../outbox/device";
import type { Operation } from "../outbox/operation";
import type { InTray, Sent } from "../outbox/position";
import { put_sent } from "../outbox/sent";
import { SET_ASIDE } from "../records/fold";
import { look_again, tell_other_windows } from "../records/read";
import type { Trouble } from "./call";
import { put_position, read_position } from "./position";

/** Keeps the receipts; returns whether the outbox holds nothing of the batch any more. */
export async function settle(ops: readonly Operation[], pushed: Pushed): Promise<boolean> {
  const now = new Date().toISOString();
  const taken = [...pushed.accepted, ...pushed.duplicate];
  const seq_of = new Map(taken.map(({ op_id, seq }) => [op_id, seq]));
  const eff_of = new Map(pushed.clamped.map(({ op_id, eff }) => [op_id, eff]));
  const refused = new Map(pushed.refused.map((receipt) => [receipt.op_id, receipt]));
  const number_of = new Map(ops.map(({ op_id, device_seq }) => [op_id, device_seq]));
  const of_batch = IDBKeyRange.bound(ops[0]?.device_seq, ops.at(-1)?.device_seq);
  const out_of_view: string[] = [];
  const all_left = await write_at_once(["meta", "outbox", "sent", "tray"], async (writing) => {
    const meta = writing.objectStore("meta");
    const outbox = writing.objectStore("outbox");
    const tray = writing.objectStore("tray");
    out_of_view.length = 0;
    const settled: Sent[] = [];
    const leaving: number[] = [];
    // As they are now: another window may have settled, changed or erased some meanwhile.
    const here = await outbox.getAll(of_batch);
    // Asked for all at once; if one fails, the transaction says so at its end.
    const asked: Promise<unknown>[] = [];
    for (const op of here) {
      const { op_id, device_seq } = op;
      const seq = seq_of.get(op_id);
      const receipt = refused.get(op_id);
      if (number_of.get(op_id) !== device_seq || (seq === undefined && !receipt)) continue;
      leaving.push(device_seq);
      if (seq !== undefined) {
        const eff = eff_of.get(op_id);
        settled.push({ op, seq, sent_at: now, ...(eff && { eff }) });
      } else if (receipt && op.kind !== SET_ASIDE) {
        const { code, message, pointer, then: way_on } = receipt;
        const row = { code, message, pointer, way_on, refused_at: now };
        asked.push(tray.put(code === "erased" ? row : { ...row, op }, op_id));
        out_of_view.push(op.entity_id);
      }
    }
    asked.push(put_sent(writing.objectStore("sent"), settled));
    const all_leave = leaving.length === here.length;
    // One request for all costs the store as much as one each for a few.
    if (all_leave) asked.push(outbox.delete(of_batch));
    else asked.push(...leaving.map((device_seq) => outbox.delete(device_seq)));
    await Promise.all(asked);
    const { last_seq } = await read_position(meta);
    // A newly accepted operation has the greatest number yet; a repeat need not.
    const known = last_seq !== undefined || pushed.accepted.length > 0;
    await put_position(meta, {
      ...(known && { last_seq: Math.max(last_seq ?? 0, ...seq_of.values()) }),
      acked_through: pushed.acked_through,
      safe_seq: pushed.safe_seq,
      sent_at: now,
      clock_offset_ms: pushed.clock_offset_ms,
    });
    const latest = pushed.clamped
      .map(({ eff }) => eff)
      .sort()
      .at(-1);
    const device = (await meta.get("device")) as Device | undefined;
    // A clock that ran ahead goes back to the server's stamp.
    if (latest && device && (await outbox.count()) === 0) {
      const { at_ms, counter } = read_stamp(latest);
      await meta.put({ ...device, clock: { at_ms, counter } }, "device");
    }
    return all_leave;
  });
  if (out_of_view.length > 0) {
    await look_again(out_of_view);
    tell_other_windows({ came_in: true, ids: out_of_view });
  }
  return all_left;
}

/** Moves an operation that cannot be sent to the tray; its number goes out empty. */
export async function set_aside(op: Operation, { code, message }: Trouble): Promise<void> {
  const { device_seq, hlc, schema, by } = op;
  const id = uuidv7();
  const filler = { op_id: id, device_seq, hlc, schema, kind: SET_ASIDE, entity_id: id, by };
  const row: InTray = {
    op,
    code: code || "unreadable",
    message,
    pointer: "",
    way_on: "edit",
    refused_at: new Date().toISOString(),
  };
  await write_at_once(["outbox", "tray"], async (writing) => {
    await writing.objectStore("outbox").put(filler, device_seq);
    await writing.objectStore("tray").put(row, op.op_id);
  });
  await look_again([op.entity_id]);
  tell_other_windows({ came_in: true, ids: [op.entity_id] });
}
