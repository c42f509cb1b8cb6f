// Takes the server's changes, a page at a time. It fetches the next page while it keeps one. If
// something else came between, it drops the page and asks again.

import type { Change, Pulled, SnapshotPage } from "../api/shapes";
import { write_at_once } from "../outbox/database";
import { type Position, seq_of } from "../outbox/position";
import { call, Trouble } from "./call";
import { keep_page, type Page } from "./page";
import { type Caller, read_position } from "./position";

/** A page that came, the place after it, and whether others follow. */
interface Came extends Page {
  place: Partial<Position>;
  more: boolean;
}

/** Fetches everything this phone lacks: page by page from its cursor, or from nothing. */
export async function fetch_all({ pairing, position }: Caller): Promise<void> {
  const ask_for = (from: Position) => next_page({ pairing, position: from });
  let here = position;
  let coming = ask_for(here);
  for (;;) {
    const page = await coming;
    const expected = { ...here, ...page.place };
    // The next call reports what an erasure leaves, so that call waits for it.
    const ahead = page.more && !page.erased?.length ? ask_for(expected) : undefined;
    ahead?.catch(() => undefined);
    here = await keep_page(page, here, page.place);
    if (!page.more) return;
    const as_expected = here.cursor === expected.cursor && here.bookmark === expected.bookmark;
    coming = ahead && as_expected ? ahead : ask_for(here);
  }
}

/** Fetches the page after this place: of everything without a cursor, else of the changes. */
function next_page(caller: Caller): Promise<Came> {
  return caller.position.cursor ? changed_page(caller) : snapshot_page(caller);
}

async function changed_page({ pairing, position }: Caller): Promise<Came> {
  const query = new URLSearchParams({
    cursor: position.cursor,
    erase_seq: `${position.erase_seq}`,
  });
  const page = await call<Pulled>(`/api/sync/pull?${query}`, pairing);
  // A desk that was put back says so first here, before any cursor can.
  if (page.acked_through < position.acked_through) {
    throw new Trouble(409, "acked_less", "", { acked_through: page.acked_through });
  }
  const { next, hidden = [], head_seq, more } = page;
  const place = { cursor: next, bookmark: "", to_come: 0, hidden };
  return { ...page, place, more, whole_to: head_seq };
}

/** Fetches one page of everything; the last one leaves the cursor to go on from. */
async function snapshot_page({ pairing, position }: Caller): Promise<Came> {
  const query = new URLSearchParams({ erase_seq: `${position.erase_seq}` });
  if (position.bookmark) query.set("after", position.bookmark);
  const page = await call<SnapshotPage>(`/api/sync/snapshot?${query}`, pairing);
  const place = page.next
    ? { bookmark: page.next, to_come: page.left }
    : { cursor: page.cursor, bookmark: "", to_come: 0 };
  return { ...page, place, more: true, whole_to: seq_of(page.cursor) };
}

/** Takes a change of the live stream; returns whether it followed on. */
export async function take_live(
  { from, changes }: { from: string; changes: Change[] },
  cursor: string,
): Promise<boolean> {
  const [epoch = ""] = cursor.split(".");
  const here = await write_at_once(["meta"], (writing) =>
    read_position(writing.objectStore("meta")),
  );
  if (here.cursor !== from || here.epoch !== epoch) return false;
  await keep_page({ epoch, changes, whole_to: seq_of(cursor) }, here, { cursor });
  return true;
}
