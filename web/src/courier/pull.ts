// What changed on the server comes in, a page at a time: the records and the place in its log in
// one transaction, so that a page is here whole or is asked for again.

import type { Change, ErasedEntry, Pulled, SnapshotPage } from "../api/shapes";
import { CLOCK_START, type Clock, seen } from "../outbox/clock";
import { type Writing, write_at_once } from "../outbox/database";
import type { Device } from "../outbox/device";
import { type Post, seq_of } from "../outbox/posted";
import { look_again, tell_other_windows } from "../records/read";
import { call, Trouble } from "./call";
import { carry_out } from "./erase";
import { put_post, read_post, type Standing } from "./post";
import { state_of_change } from "./wire";

const KEPT_SENT_MS = 30 * 86_400_000;

/** Fetches everything this phone does not have: page by page from its cursor, or from nothing. */
export async function fetch_all(standing: Standing): Promise<void> {
  let { post } = standing;
  while (!post.cursor) post = await fetch_page({ ...standing, post });
  for (let more = true; more; ) {
    const query = new URLSearchParams({ cursor: post.cursor, erase_seq: `${post.erase_seq}` });
    const page = await call<Pulled>(`/api/sync/pull?${query}`, standing.pairing);
    // Of a desk that was put back it may be the first to tell, before any cursor does.
    if (page.acked_through < post.acked_through) {
      throw new Trouble(409, "acked_less", "", { acked_through: page.acked_through });
    }
    more = page.more;
    const hidden = page.hidden ?? [];
    const moved = hidden.join() !== (post.hidden ?? []).join();
    post = await keep_page(page, post, { cursor: page.next, bookmark: "", to_come: 0, hidden });
    if (moved) {
      await look_again([]);
      tell_other_windows({ came_in: true, ids: [] });
    }
  }
}

/** Fetches one page of everything; the last one leaves the cursor to go on from. */
async function fetch_page({ pairing, post }: Standing): Promise<Post> {
  const query = new URLSearchParams({ erase_seq: `${post.erase_seq}` });
  if (post.bookmark) query.set("after", post.bookmark);
  const page = await call<SnapshotPage>(`/api/sync/snapshot?${query}`, pairing);
  const place = page.next
    ? { bookmark: page.next, to_come: page.left }
    : { cursor: page.cursor, bookmark: "", to_come: 0 };
  return keep_page(page, post, place);
}

interface Page {
  epoch: string;
  erased?: ErasedEntry[];
  changes: Change[];
}

/**
 * Keeps a page and the place after it, all or none, and shows what it brought. Where another
 * window has gone on from `from` meanwhile, what it kept is newer and stays.
 */
async function keep_page(page: Page, from: Post, place: Partial<Post>): Promise<Post> {
  const { changes, epoch, erased = [] } = page;
  if (erased.length > 0) await carry_out(erased);
  const post = await write_at_once(["meta", "base", "sent"], async (writing) => {
    const meta = writing.objectStore("meta");
    const base = writing.objectStore("base");
    const here = await read_post(meta);
    if (here.cursor !== from.cursor || here.bookmark !== from.bookmark) return here;
    for (const change of changes) {
      base.put(state_of_change(change, epoch), change.entity_id).catch(() => undefined);
    }
    const device = (await meta.get("device")) as Device | undefined;
    if (device) await meta.put({ ...device, clock: after(device.clock, changes) }, "device");
    const now = await put_post(meta, place);
    return put_post(meta, await covered_by(now, writing));
  });
  const ids = changes.map(({ entity_id }) => entity_id);
  if (ids.length > 0) {
    await look_again(ids);
    tell_other_windows({ came_in: true, ids });
  }
  return post;
}

/** The clock after all that came in, so that what is written next sorts after it. */
function after(clock: Clock | undefined, changes: readonly Change[]): Clock {
  let latest = "";
  for (const { fields, heads = {} } of changes) {
    for (const { eff } of [...Object.values(fields), ...Object.values(heads).flat()]) {
      if (eff > latest) latest = eff;
    }
  }
  return latest ? seen(clock ?? CLOCK_START, latest) : (clock ?? CLOCK_START);
}

/** How far the records hold what was sent; and what a backup holds too need not be kept longer. */
async function covered_by(
  post: Post,
  writing: Writing<"meta" | "base" | "sent">,
): Promise<Partial<Post>> {
  const here_seq = seq_of(post.cursor);
  const store = writing.objectStore("sent");
  const uncovered = await store.getAll(IDBKeyRange.lowerBound(post.covered_through, true));
  let { covered_through } = post;
  for (const { op, seq } of uncovered) {
    if (seq > here_seq) break;
    covered_through = op.device_seq;
  }
  const [oldest] = await store.getAll(null, 1);
  if (oldest && may_go(oldest, post.safe_seq)) {
    for (const row of await store.getAll(IDBKeyRange.upperBound(covered_through))) {
      if (may_go(row, post.safe_seq)) await store.delete(row.op.device_seq);
    }
  }
  return { covered_through };
}

function may_go({ seq, sent_at }: { seq: number; sent_at: string }, safe_seq: number): boolean {
  return seq <= safe_seq && Date.parse(sent_at) < Date.now() - KEPT_SENT_MS;
}

/** Takes what a live stream brings; returns whether it followed on what is here. */
export async function take_live(
  { from, changes }: { from: string; changes: Change[] },
  cursor: string,
): Promise<boolean> {
  const [epoch = ""] = cursor.split(".");
  const here = await write_at_once(["meta"], (writing) => read_post(writing.objectStore("meta")));
  if (here.cursor !== from || here.epoch !== epoch) return false;
  await keep_page({ epoch, changes }, here, { cursor });
  return true;
}
