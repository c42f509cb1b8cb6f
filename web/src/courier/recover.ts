// What this phone does when the server tells another story. Nothing written here is lost: at worst
// it is sent once more, and recognised.
import { v7 as uuidv7 } from "uuid";
import { write_at_once } from "../outbox/database";
import { type Device, new_device } from "../outbox/device";
import type { Operation } from "../outbox/operation";
import type { Pairing, Position } from "../outbox/position";
import { change_sent, sent_after } from "../outbox/sent";
import { SET_ASIDE } from "../records/fold";
import { look_again, tell_other_windows } from "../records/read";
import type { Trouble } from "./call";
import { put_position, read_position } from "./position";

/** If more numbers than this are missing in a row, a new identity costs less. */
const MOST_HOLES = 1000;

/** Removes what stood in the way; returns whether another try is worth it. */
export async function recover({ code, needs }: Trouble): Promise<boolean> {
  switch (code) {
    case "epoch_changed":
      if (!needs.epoch) return false;
      await send_again_after(needs.acked_through ?? 0, {
        epoch: needs.epoch,
        cursor: "",
        bookmark: "",
      });
      return true;
    case "cursor_expired":
    case "cursor_unknown":
      await write_at_once(["meta"], (writing) =>
        put_position(writing.objectStore("meta"), { cursor: "", bookmark: "" }),
      );
      return true;
    case "acked_less":
      await send_again_after(needs.acked_through ?? 0, {});
      return true;
    case "seq_gap":
      return needs.expected !== undefined && (await go_back_to(needs.expected));
    case "device_forked":
      await go_on_under_another_name();
      return true;
  }
  return false;
}

/** Sends from this number again, or under another identity if too much of it is missing. */
async function go_back_to(expected: number): Promise<boolean> {
  const first = await send_again_after(expected - 1, {});
  if (first !== undefined && first > expected + MOST_HOLES) await go_on_under_another_name();
  return true;
}

/** Puts everything the server has not settled back into the outbox; returns the lowest number. */
async function send_again_after(
  acked: number,
  parts: Partial<Position>,
): Promise<number | undefined> {
  const first = await write_at_once(["meta", "outbox", "sent"], async (writing) => {
    const [outbox, sent] = [writing.objectStore("outbox"), writing.objectStore("sent")];
    const unsettled = await sent_after(sent, acked);
    await change_sent(sent, acked, () => undefined);
    for (const { op } of unsettled) await outbox.put(op, op.device_seq);
    const meta = writing.objectStore("meta");
    const { covered_through } = await read_position(meta);
    const covered = Math.min(covered_through, acked);
    await put_position(meta, {
      ...parts,
      acked_through: acked,
      covered_through: covered,
      last_seq: undefined,
    });
    const waiting = await outbox.getAll();
    for (const filler of fillers_of(waiting, acked)) await outbox.put(filler, filler.device_seq);
    return waiting[0]?.device_seq;
  });
  await look_again();
  tell_other_windows({ came_in: true });
  return first;
}

/**
 * A restored desk may have forgotten its refusals, and so wait for numbers that are gone here. The
 * refused operations are in the tray or were erased. Their numbers go out empty.
 */
function fillers_of(waiting: readonly Operation[], acked: number): Operation[] {
  const fillers: Operation[] = [];
  let next = acked + 1;
  for (const { device_seq, hlc, schema, by } of waiting) {
    if (device_seq - next > MOST_HOLES) return [];
    for (; next < device_seq; next += 1) {
      const id = uuidv7();
      const empty = { kind: SET_ASIDE, entity_id: id };
      fillers.push({ op_id: id, device_seq: next, hlc, schema, by, ...empty });
    }
    next = Math.max(next, device_seq + 1);
  }
  return fillers;
}

/**
 * Takes a new identity, since two phones have written under the old one. All operations keep their
 * ids, so that the desk recognises those that had arrived. Each says under which number it was
 * written. The desk must pair the new identity, so its next call is told to pair again.
 */
export async function go_on_under_another_name(): Promise<void> {
  await write_at_once(["meta", "outbox", "sent"], async (writing) => {
    const meta = writing.objectStore("meta");
    const outbox = writing.objectStore("outbox");
    const before = (await meta.get("device")) as Device | undefined;
    const sent = writing.objectStore("sent");
    const were_sent = await sent_after(sent, 0);
    const waiting = [...were_sent.map(({ op }) => op), ...(await outbox.getAll())];
    await Promise.all([outbox.clear(), sent.clear()]);
    let device_seq = 0;
    for (const op of waiting) {
      device_seq += 1;
      await outbox.put(renumbered(op, device_seq, before?.device_id ?? ""), device_seq);
    }
    const device_id = uuidv7();
    await meta.put({ ...(before ?? new_device()), device_id, device_seq }, "device");
    const pairing = (await meta.get("pairing")) as Pairing | undefined;
    // Its token belonged to the old identity.
    if (pairing) await meta.put({ ...pairing, device_id, token: "" }, "pairing");
    await put_position(meta, { cursor: "", bookmark: "", acked_through: 0, covered_through: 0 });
  });
  await look_again();
  tell_other_windows({ came_in: true });
}

function renumbered(op: Operation, device_seq: number, device_id: string): Operation {
  const orig = op.orig ?? { device_id, device_seq: op.device_seq };
  return { ...op, device_seq, orig };
}
