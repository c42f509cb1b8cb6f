// Every change to a record is an operation, and it is on the phone before anything is said of it.
//
// What is held, whatever happens: an operation is there whole or not at all; the numbers of this
// phone's operations run 1, 2, 3 … without a hole; and `record` returns only after the store has
// said `complete`, for a request's success may still be undone by an abort.
import { v7 as uuidv7 } from "uuid";
import { CLOCK_START, type Clock, stamp_text, tick } from "./clock";
import { with_database, write_at_once } from "./database";
import type { Operation, Unstamped } from "./operation";

export interface Device {
  device_id: string;
  device_seq: number;
  clock: Clock;
}

/** Gives each operation of one act its id; a second try of the same act gives the same ids. */
export type Stamp = (unstamped: Unstamped) => Operation;

/**
 * Writes the operations of one act, all or none, and returns them once the store says `complete`.
 *
 * `build` is given the operations that other windows have written after `known_seq`, so that what
 * it builds rests on all that is on this phone; it must not wait for anything, or the transaction
 * would close under it.
 */
export async function record(
  known_seq: () => number,
  build: (missed: readonly Operation[], stamp: Stamp, device_id: string) => readonly Operation[],
): Promise<readonly Operation[]> {
  const op_ids: string[] = [];
  return write_at_once(["meta", "outbox"], async (writing) => {
    const meta = writing.objectStore("meta");
    const outbox = writing.objectStore("outbox");
    const device = ((await meta.get("device")) as Device | undefined) ?? new_device();
    const missed = await outbox.getAll(IDBKeyRange.lowerBound(known_seq(), true));
    // Where the first try was kept after all, only its `complete` was lost.
    const before = missed.filter(({ op_id }) => op_ids.includes(op_id));
    if (before.length > 0) return before;
    let { device_seq, clock } = device;
    let count = 0;
    const stamp: Stamp = (unstamped) => {
      clock = tick(clock, Date.now());
      device_seq += 1;
      op_ids[count] ??= uuidv7();
      return {
        op_id: op_ids[count++] as string,
        device_seq,
        hlc: stamp_text(clock, device.device_id),
        ...unstamped,
      };
    };
    const written = build(missed, stamp, device.device_id);
    for (const op of written) outbox.put(op, op.device_seq).catch(() => undefined);
    meta.put({ ...device, device_seq, clock }, "device").catch(() => undefined);
    return written;
  });
}

/** Returns the identity of a phone that has none yet. */
export function new_device(): Device {
  return { device_id: uuidv7(), device_seq: 0, clock: CLOCK_START };
}

export interface Held {
  device: Device | undefined;
  writer: string | undefined;
  base: unknown[];
  /** Sent and waiting operations, in the order they were written. */
  operations: Operation[];
}

/** Returns all that the phone holds, as of one moment. */
export async function held(): Promise<Held> {
  return with_database(async (opened) => {
    const reading = opened.transaction(["meta", "base", "sent", "outbox"]);
    const [device, writer, base, sent, outbox] = await Promise.all([
      reading.objectStore("meta").get("device"),
      reading.objectStore("meta").get("writer"),
      reading.objectStore("base").getAll(),
      reading.objectStore("sent").getAll(),
      reading.objectStore("outbox").getAll(),
    ]);
    return {
      device: device as Device | undefined,
      writer: writer as string | undefined,
      base,
      operations: [...sent, ...outbox],
    };
  });
}

/** Returns this phone's operations that were written after the one with this number. */
export async function written_after(device_seq: number): Promise<Operation[]> {
  return with_database((opened) =>
    opened.getAll("outbox", IDBKeyRange.lowerBound(device_seq, true)),
  );
}

/** Keeps one value about this phone itself. */
export async function keep_meta(name: "writer", value: string): Promise<void> {
  await write_at_once(["meta"], (writing) => writing.objectStore("meta").put(value, name));
}
