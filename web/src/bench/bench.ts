// The entries on the bench: a zone of a service, or a try-out for no client. A change from one to
// the other stores the entries where they belong and lays out the other's.
import { batch, effect, signal } from "@preact/signals";
import { fitted, keep_strictly, kept_in_window, recall } from "../device/kept";
import { typed_is_open } from "../device/typed";
import type { Entered } from "../records/entered";
import { one } from "../records/read";
import { change } from "../records/write";
import {
  amounts,
  chosen_mix,
  hair_entry,
  NOTHING_ENTERED,
  open_section,
  reached,
  type Section,
  strip_minute,
  what_ifs_shown,
  wish_entry,
} from "./entries";
import { as_learnt } from "./learnt";
import { hair_of, wish_of } from "./requests";

/** The zone whose entries are laid out; empty for a try-out. */
export const bench_zone = kept_in_window("bench_zone", "");

/** The entries as they were last laid out or kept here; a difference was entered since. */
const laid = kept_in_window("bench_laid", JSON.stringify(NOTHING_ENTERED));

/** Returns the entries that are laid out now. */
export function entered(): Entered {
  return {
    hair: hair_entry.value,
    wish: wish_entry.value,
    amounts: amounts.value,
    chosen_mix: chosen_mix.value,
  };
}

/** What was asked for last: storing takes a while, and somebody may go back meanwhile. */
let wanted = bench_zone.peek();

/**
 * Lays out a zone of a service, or with "" the try-out, at `section`.
 *
 * It does nothing where another is asked for meanwhile, or this one is laid out already.
 */
export async function lay_out(zone_id: string, section: Section): Promise<void> {
  wanted = zone_id;
  // After a kill, what this page started from may be older than what the strict store still brings.
  await typed_is_open();
  if (bench_zone.value === zone_id) return;
  await put_away();
  // Another call may have laid it out meanwhile, and a section of it be open.
  if (wanted === zone_id && bench_zone.value !== zone_id) lay_out_as_kept(zone_id, section);
}

/** Lays out the kept entries of a zone, or of the try-out, in place of the present ones. */
export function lay_out_as_kept(zone_id: string, section: Section): void {
  const found = zone_id
    ? one("zone", zone_id).value?.entered
    : recall<Entered>("tried_out", NOTHING_ENTERED);
  put_down(zone_id, fitted(found, NOTHING_ENTERED), section);
}

/** Lays out in the try-out what was once entered for something else. */
export async function lay_out_tried_out(was: Entered, section: Section): Promise<void> {
  wanted = "";
  if (bench_zone.value) await put_away();
  if (wanted === "") put_down("", fitted(was, NOTHING_ENTERED), section);
}

function put_down(zone_id: string, said: Entered, section: Section): void {
  wanted = zone_id;
  batch(() => {
    bench_zone.value = zone_id;
    put_entries(said);
    strip_minute.value = 0;
    what_ifs_shown.value = [];
    // Every section before the furthest one can be opened again: this one counts as reached.
    reached.value = [section];
    open_section.value = section;
  });
}

function put_entries({ hair, wish, amounts: of, chosen_mix: mix }: Entered): void {
  hair_entry.value = hair;
  wish_entry.value = wish;
  amounts.value = of;
  chosen_mix.value = mix;
  laid.value = JSON.stringify(entered());
}

/** Keeps the entries where they belong; resolves when they are kept. */
export async function put_away(): Promise<void> {
  const zone_id = bench_zone.value;
  const now = entered();
  const text = JSON.stringify(now);
  if (!zone_id) {
    if (text === laid.peek()) return;
    laid.value = text;
    keep_strictly("tried_out", now);
    return;
  }
  const zone = one("zone", zone_id).value;
  // Old entries here must not overwrite what another phone has entered since.
  if (!zone || text === laid.value || text === JSON.stringify(zone.entered)) return;
  laid.value = text;
  const hair = hair_of(now.hair);
  const client = one("service", zone.service ?? "").value?.client;
  await change(
    "zone",
    zone_id,
    {
      entered: now,
      hair: hair && as_learnt(hair, client),
      wish: wish_of(now.wish),
    },
    null,
  );
}

const SETTLED_MS = 800;

/**
 * Keeps a zone's entries once they have settled, and when the page is left. Lays out another
 * phone's entries for the zone, while nothing else was entered here. Runs for good.
 */
export function watch_bench(): void {
  let waiting: ReturnType<typeof setTimeout> | undefined;
  // After a kill the simple storage may be two entries behind. A record laid out over those would
  // count as newer than what was typed last, which the strict store still brings.
  const is_whole = signal(false);
  void Promise.resolve()
    .then(typed_is_open)
    .then(() => {
      is_whole.value = true;
    });
  effect(() => {
    entered();
    clearTimeout(waiting);
    if (!is_whole.value) return;
    // A try-out is kept at once, since another window may lay a service over it.
    if (!bench_zone.value) void put_away();
    else waiting = setTimeout(() => void put_away(), SETTLED_MS);
  });
  effect(() => {
    if (!is_whole.value) return;
    const now = JSON.stringify(entered());
    const came = one("zone", bench_zone.value).value?.entered;
    if (!came) return;
    const said = fitted(came, NOTHING_ENTERED);
    if (JSON.stringify(said) === now) laid.value = now;
    else if (now === laid.peek()) batch(() => put_entries(said));
  });
  addEventListener("pagehide", () => {
    if (is_whole.peek()) void put_away();
  });
}
