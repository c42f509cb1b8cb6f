// What changed on the server comes in, a page at a time. While one page is kept the next is on its
// way; where something else came between, it is let go and asked for anew.

import type { Change, Pulled, SnapshotPage } from "../api/shapes";
import { write_at_once } from "../outbox/database";
import { type Position, seq_of } from "../outbox/position";
import { call, Trouble } from "./call";
import { keep_page, type Page } from "./page";
import { type Caller, read_position } from "./position";

/** A page that came, where one stands after it, and whether others follow. */
interface Came extends Page {
  place: Partial<Position>;
  more: boolean;
}

/** Fetches everything this phone does not have: page by page from its cursor, or from nothing. */
export async function fetch_all({ pairing, position }: Caller): Promise<void> {
  const ask_for = (from: Position) => next_page({ pairing, position: from });
  let here = position;
  let coming = ask_for(here);
  for (;;) {
    const page = await coming;
    const expected = { ...here, ...page.place };
    // What an erasure leaves is said with the next call, so that one waits for it.
    const ahead = page.more && !page.erased?.length ? ask_for(expected) : undefined;
    ahead?.catch(() => undefined);
    here = await keep_page(page, here, page.place);
    if (!page.more) return;
    const as_expected = here.cursor === expected.cursor && here.bookmark === expected.bookmark;
    coming = ahead && as_expected ? ahead : ask_for(here);
  }
}

/** The page after this place: of everything, while there is no cursor; else of what changed. */
function next_page(caller: Caller): Promise<Came> {
  return caller.position.cursor ? changed_page(caller) : snapshot_page(caller);
}

async function changed_page({ pairing, position }: Caller): Promise<Came> {
  const query = new URLSearchParams({
    cursor: position.cursor,
    erase_seq: `${position.erase_seq}`,
  });
  const page = await call<Pulled>(`/api/sync/pull?${query}`, pairing);
  // Of a desk that was put back it may be the first to tell, before any cursor does.
  if (page.acked_through < position.acked_through) {
    throw new Trouble(409, "acked_less", "", { acked_through: page.acked_through });
  }
  const { next, hidden = [], head_seq, more } = page;
  const place = { cursor: next, bookmark: "", to_come: 0, hidden };
  return { ...page, place, more, whole_to: head_seq };
}

/** One page of everything; the last one leaves the cursor to go on from. */
async function snapshot_page({ pairing, position }: Caller): Promise<Came> {
  const query = new URLSearchParams({ erase_seq: `${position.erase_seq}` });
  if (position.bookmark) query.set("after", position.bookmark);
  const page = await call<SnapshotPage>(`/api/sync/snapshot?${query}`, pairing);
  const place = page.next
    ? { bookmark: page.next, to_come: page.left }
    : { cursor: page.cursor, bookmark: "", to_come: 0 };
  return { ...page, place, more: true, whole_to: seq_of(page.cursor) };
}

/** Takes what a live stream brings; returns whether it followed on what is here. */
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
