// A batch on its way out: the operations of one call as the outbox holds them, in the order of
// writing. Each is turned into JSON once.
import { with_database } from "../outbox/database";
import type { Operation } from "../outbox/operation";

const MOST_OPS = 500;
// The server's 2 MiB, less the bytes around the operations.
const AROUND_OPS_BYTES = 4096;
const MOST_BYTES = 2 * 1024 * 1024 - AROUND_OPS_BYTES;

/** How much one call takes; it shrinks after a call was refused for its size. */
const room = { ops: MOST_OPS, bytes: MOST_BYTES };

export interface Batch {
  ops: readonly Operation[];
  /** The operations as a list in JSON. */
  json: string;
  /** How many wait from here on, these included. */
  queued: number;
}

/** Returns the next operations after this number that fit into one call, or none. */
export async function batch_after(device_seq: number): Promise<Batch> {
  const later = IDBKeyRange.lowerBound(device_seq, true);
  const [next, queued] = await with_database((opened) => {
    const outbox = opened.transaction("outbox").store;
    return Promise.all([outbox.getAll(later, room.ops), outbox.count(later)]);
  });
  const texts = next.map((op) => JSON.stringify(op));
  const fits = how_many_fit(texts);
  return { ops: next.slice(0, fits), json: `[${texts.slice(0, fits).join()}]`, queued };
}

/** An operation that is too large by itself is sent too: the server says what to do with it. */
function how_many_fit(texts: readonly string[]): number {
  const letters = texts.reduce((sum, text) => sum + text.length + 1, 0);
  // No letter takes more than three bytes, so a small batch needs no counting.
  if (letters * 3 <= room.bytes) return texts.length;
  const encoder = new TextEncoder();
  let left = room.bytes;
  const first_beyond = texts.findIndex((text) => {
    left -= encoder.encode(text).length + 1;
    return left < 0;
  });
  return first_beyond < 0 ? texts.length : Math.max(1, first_beyond);
}

/** After a batch that went through, more are tried at once again. */
export function allow_more(): void {
  room.ops = Math.min(MOST_OPS, room.ops * 2);
}

/** Half of this batch next. */
export function halve({ ops }: Batch): void {
  room.ops = Math.ceil(ops.length / 2);
}

/** At most what the server says it takes. */
export function keep_within(max_bytes: number | undefined): void {
  if (max_bytes) room.bytes = Math.min(room.bytes, max_bytes - AROUND_OPS_BYTES);
}
