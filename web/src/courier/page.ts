// Keeps a page of records with the place after it in one transaction. So the page is here whole, or
// is asked for again. It is shown from that same transaction, without a second read.
import type { Change, ErasedEntry } from "../api/shapes";
import { CLOCK_START, type Clock, seen } from "../outbox/clock";
import { put_all, type Writing, write_at_once } from "../outbox/database";
import type { Device } from "../outbox/device";
import { held_beside } from "../outbox/operations";
import { type Position, type Sent, seq_of } from "../outbox/position";
import { sent_in } from "../outbox/sent";
import { lay_out, look_again, tell_other_windows } from "../records/read";
import { carry_out } from "./erase";
import { put_position, read_position } from "./position";
import { state_of_change } from "./wire";

const KEPT_SENT_MS = 30 * 86_400_000;

/** A page of the pull, of the snapshot or of the stream. */
export interface Page {
  epoch: string;
  erased?: readonly ErasedEntry[];
  changes: readonly Change[];
  /** The server's number up to which these records hold everything. */
  whole_to: number;
}

/**
 * Keeps a page and the place after it, all or none, and shows it. If another window has gone on
 * from `from` meanwhile, its page is newer and stays.
 */
export async function keep_page(
  page: Page,
  from: Position,
  place: Partial<Position>,
): Promise<Position> {
  const { changes, epoch, erased = [] } = page;
  if (erased.length > 0) await carry_out(erased);
  const states = changes.map((change) => state_of_change(change, epoch));
  const ids = states.map(({ id }) => id);
  const { position, now, moved } = await write_at_once(
    ["meta", "base", "sent", "outbox"],
    async (writing) => {
      const meta = writing.objectStore("meta");
      const here = await read_position(meta);
      if (here.cursor !== from.cursor || here.bookmark !== from.bookmark) return { position: here };
      put_all(
        writing.objectStore("base"),
        states.map((state) => [state, state.id]),
      );
      const device = (await meta.get("device")) as Device | undefined;
      if (device) await meta.put({ ...device, clock: after(device.clock, changes) }, "device");
      const covered_through = await covered_by({ ...here, ...place }, writing);
      const position = await put_position(meta, { ...place, covered_through });
      const now = { ...(await held_beside(writing, page.whole_to)), base: states };
      return { position, now, moved: now.hidden.join() !== (here.hidden ?? []).join() };
    },
  );
  if (ids.length > 0 || moved) {
    if (now) lay_out(now, ids);
    else await look_again(ids);
    tell_other_windows({ came_in: true, ids });
  }
  return position;
}

/** The clock after everything that came in, so that the next write sorts after it. */
function after(clock: Clock | undefined, changes: readonly Change[]): Clock {
  let latest = "";
  for (const { fields, heads = {} } of changes) {
    for (const { eff } of [...Object.values(fields), ...Object.values(heads).flat()]) {
      if (eff > latest) latest = eff;
    }
  }
  return latest ? seen(clock ?? CLOCK_START, latest) : (clock ?? CLOCK_START);
}

/**
 * Returns the number up to which the records hold every sent operation. Deletes the old ones that a
 * backup holds too.
 */
async function covered_by(
  position: Position,
  writing: Writing<"meta" | "base" | "sent" | "outbox">,
): Promise<number> {
  const here_seq = seq_of(position.cursor);
  const store = writing.objectStore("sent");
  let { covered_through } = position;
  // Row by row up to the first that is not covered: while much is on its way back, most is not.
  const uncovered = IDBKeyRange.lowerBound(covered_through, true);
  for await (const { value } of store.iterate(uncovered)) {
    const row = sent_in(value);
    const beyond = row.findIndex(({ seq }) => seq > here_seq);
    const last = (beyond < 0 ? row : row.slice(0, beyond)).at(-1);
    if (last) covered_through = Math.max(covered_through, last.op.device_seq);
    if (beyond >= 0) break;
  }
  const may_all_go = (row: readonly Sent[]) => row.every((sent) => may_go(sent, position.safe_seq));
  const covered = IDBKeyRange.upperBound(covered_through);
  for await (const cursor of store.iterate(covered)) {
    if (!may_all_go(sent_in(cursor.value))) break;
    await cursor.delete();
  }
  return covered_through;
}

function may_go({ seq, sent_at }: Sent, safe_seq: number): boolean {
  return seq <= safe_seq && Date.parse(sent_at) < Date.now() - KEPT_SENT_MS;
}
