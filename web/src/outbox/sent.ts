// Sent operations: everything that one answer of the server settled is one row, under the number of
// its last operation. A row each would cost the store a hundred times as much, for its write and
// its deletion. Older versions of the app left rows of one operation each.
import type { Sent } from "./position";

/** A row of the store: the operations of one answer in the order of their numbers. */
export type SentRow = Sent | readonly Sent[];

interface Readable {
  getAll(range?: IDBKeyRange | null): Promise<SentRow[]>;
}
interface Writable extends Readable {
  put(row: SentRow, key: number): Promise<unknown>;
  delete(key: number): Promise<unknown>;
}

/** Returns the operations sent under numbers above this one, in the order of writing. */
export async function sent_after(store: Readable, device_seq: number): Promise<Sent[]> {
  const rows = await store.getAll(IDBKeyRange.lowerBound(device_seq, true));
  return rows.flatMap(sent_in).filter(({ op }) => op.device_seq > device_seq);
}

/** Returns the operations of one row. */
export function sent_in(row: SentRow): readonly Sent[] {
  return "op" in row ? [row] : row;
}

/** Stores what one answer settled, as one row. */
export async function put_sent(store: Writable, settled: readonly Sent[]): Promise<void> {
  const last = settled.at(-1);
  if (last) await store.put(settled, last.op.device_seq);
}

/**
 * Replaces each operation above this number by the result of `change`, and deletes those without a
 * result. It does not write rows that stay the same.
 */
export async function change_sent(
  store: Writable,
  device_seq: number,
  change: (sent: Sent) => Sent | undefined,
): Promise<void> {
  for (const row of await store.getAll(IDBKeyRange.lowerBound(device_seq, true))) {
    const before = sent_in(row);
    const stays = before.flatMap(
      (sent) => (sent.op.device_seq > device_seq ? change(sent) : sent) ?? [],
    );
    if (stays.length === before.length && stays.every((sent, at) => sent === before[at])) continue;
    await store.delete(before.at(-1)?.op.device_seq ?? 0);
    await put_sent(store, stays);
  }
}
