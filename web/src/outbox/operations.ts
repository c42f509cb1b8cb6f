// Every change to a record is an operation, and it is on the phone before the page says so.
//
// Guaranteed: an operation is there whole or not at all. The numbers of this phone's operations run
// 1, 2, 3 … without a hole. `record` returns only after the store has said `complete`: an abort may
// still undo a request's success.
import { v7 as uuidv7 } from "uuid";
import { stamp_text, tick } from "./clock";
import { put_by } from "./copy";
import { type Stores, type Transaction, with_database, write_at_once } from "./database";
import { type Device, new_device } from "./device";
import type { Operation, Unstamped } from "./operation";
import type { Pairing, Position, Sent } from "./position";
import { sent_after } from "./sent";

/**
 * Gives each operation of one act its id; a second try of the same act gives the same ids. It was
 * written at `at_ms`, and now without it.
 */
export type Stamp = (unstamped: Unstamped, at_ms?: number) => Operation;

/**
 * Writes the operations of one act, all or none, and returns them once the store says `complete`.
 *
 * `build` gets the operations that other windows have written after `known_seq`, so that its result
 * rests on everything on this phone. It must not wait for anything, or the transaction would close
 * under it. This stores them a second time before it returns.
 */
export async function record(
  known_seq: () => number,
  build: (missed: readonly Operation[], stamp: Stamp, device_id: string) => readonly Operation[],
): Promise<readonly Operation[]> {
  const op_ids: string[] = [];
  let device_id = "";
  const written = await write_at_once(["meta", "outbox", "sent"], async (writing) => {
    const meta = writing.objectStore("meta");
    const outbox = writing.objectStore("outbox");
    const device = ((await meta.get("device")) as Device | undefined) ?? new_device();
    device_id = device.device_id;
    // Another window may have sent its operations before this one heard about them.
    const known = known_seq();
    const sent = await sent_after(writing.objectStore("sent"), known);
    const waiting = await outbox.getAll(IDBKeyRange.lowerBound(known, true));
    const missed = [...sent.map(({ op }) => op), ...waiting];
    // If the first try was kept after all, only its `complete` was lost.
    const before = missed.filter(({ op_id }) => op_ids.includes(op_id));
    if (before.length > 0) return before;
    let { device_seq, clock } = device;
    let count = 0;
    const stamp: Stamp = (unstamped, at_ms = Date.now()) => {
      clock = tick(clock, at_ms);
      device_seq += 1;
      op_ids[count] ??= uuidv7();
      return {
        op_id: op_ids[count++] as string,
        device_seq,
        hlc: stamp_text(clock, device_id),
        ...unstamped,
      };
    };
    const written = build(missed, stamp, device_id);
    for (const op of written) outbox.put(op, op.device_seq).catch(() => undefined);
    meta.put({ ...device, device_seq, clock }, "device").catch(() => undefined);
    return written;
  });
  await put_by(device_id, written);
  return written;
}

export interface Held {
  device: Device | undefined;
  writer: string | undefined;
  pairing: Pairing | undefined;
  base: State[];
  /** Sent operations that `base` lacks, in the order of writing. */
  sent: Sent[];
  /** Operations that wait to be sent, in the order of writing. */
  outbox: Operation[];
  /** Records that no screen shows. */
  hidden: readonly string[];
}

/** A record as the store keeps it; the fold reads its content. */
type State = Stores["base"]["value"];

/** Returns everything the phone holds as of one moment; only the requested records. */
export async function held(ids?: readonly string[]): Promise<Held> {
  return with_database(async (opened) => {
    const reading = opened.transaction(["meta", "base", "sent", "outbox"]);
    const records = reading.objectStore("base");
    const [base, beside] = await Promise.all([
      ids ? Promise.all(ids.map((id) => records.get(id))) : records.getAll(),
      held_beside(reading),
    ]);
    return { ...beside, base: base.filter((state) => state !== undefined) };
  });
}

/**
 * Returns what the phone holds beside its records, as a transaction sees it. If the records hold
 * everything up to the server's number `whole_to`, this reads sent operations only if some may be
 * later. While much that was sent comes back, each page would otherwise read it again.
 */
export async function held_beside<Mode extends IDBTransactionMode>(
  inside: Transaction<"meta" | "base" | "sent" | "outbox", Mode>,
  whole_to = -1,
): Promise<Omit<Held, "base">> {
  const meta = inside.objectStore("meta");
  const [device, writer, pairing, position] = await Promise.all(
    ["device", "writer", "pairing", "post"].map((name) => meta.get(name)),
  );
  const { covered_through = 0, last_seq, hidden = [] } = (position ?? {}) as Partial<Position>;
  const some_later = last_seq === undefined || last_seq > whole_to;
  const [sent, outbox] = await Promise.all([
    some_later ? sent_after(inside.objectStore("sent"), covered_through) : [],
    inside.objectStore("outbox").getAll(),
  ]);
  return {
    device: device as Device | undefined,
    writer: writer as string | undefined,
    pairing: pairing as Pairing | undefined,
    sent,
    outbox,
    hidden,
  };
}

/** Returns this phone's operations after the one with this number. */
export async function written_after(device_seq: number): Promise<Operation[]> {
  return with_database(async (opened) => {
    const reading = opened.transaction(["sent", "outbox"]);
    const [sent, outbox] = await Promise.all([
      sent_after(reading.objectStore("sent"), device_seq),
      reading.objectStore("outbox").getAll(IDBKeyRange.lowerBound(device_seq, true)),
    ]);
    return [...sent.map(({ op }) => op), ...outbox];
  });
}

/** Keeps one value about this phone itself. */
export async function keep_meta(name: "writer", value: string): Promise<void> {
  await write_at_once(["meta"], (writing) => writing.objectStore("meta").put(value, name));
}
