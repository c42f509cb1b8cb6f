// Asks in which order the zones of a head are put on and rinsed.
import { computed, effect } from "@preact/signals";
import type { Mend, ScheduleReply, ScheduleRequest } from "../../api/shapes";
import { moved_since } from "../../device/clock_moves";
import { kept } from "../../device/kept";
import { MINUTE_MS } from "../../device/when";
import { open_question } from "../../engine/question";
import { is_late } from "../../parts/order/rows";
import { now_ms } from "../../salon/service/running";
import { type Zone, zones_of } from "../../salon/service/services";

export const schedule = open_question("schedules");

// Work begun more than a day ago was forgotten, and its order stays the same.
const MOST_MIN = 1440;
const MOST_ZONES = 6;
const USUAL_APPLY_MIN = 10;

/** How this salon works: pairs of hands, minutes a rinse takes, and whether zones share one. */
export const work = kept<{ hands: number; basin_minutes: number; rinse: "separate" | "shared" }>(
  "work",
  { hands: 1, basin_minutes: 5, rinse: "separate" },
);

/** Minutes it takes to put a zone on, by the zone's id; the latest ones only. */
const apply_minutes = kept<[string, number][]>("apply_minutes", []);

/** Returns the minutes it takes to put a zone on. */
export function apply_min_of(zone_id: string): number {
  return apply_minutes.value.find(([id]) => id === zone_id)?.[1] ?? USUAL_APPLY_MIN;
}

/** Says how long it takes to put a zone on. */
export function put_apply_min(zone_id: string, minutes: number): void {
  const others = apply_minutes.value.filter(([id]) => id !== zone_id).slice(-60);
  apply_minutes.value = [...others, [zone_id, minutes]];
}

/** Returns the zones that can be put in order: toners with a window that are not rinsed. */
export function zones_in_order(service_id: string) {
  return zones_of(service_id)
    .filter(({ mix, window, rinsed_at }) => mix && !rinsed_at && window && "best" in window)
    .slice(0, MOST_ZONES);
}

/** Returns the zones for the question: what is on, or begun, with its minutes. */
function asked_zones(zones: readonly Zone[], began_ms: number | undefined) {
  return zones.flatMap((zone): ScheduleRequest["zones"] => {
    const { id, name, window, first_section_at: first, last_section_at: last } = zone;
    if (!window) return [];
    const at = (moment: string) => minutes_between(began_ms ?? 0, on_this_clock(moment, id));
    const put_on = first && { from_min: at(first), ...(last && { to_min: at(last) }) };
    return [{ name: name ?? "", window, apply_min: apply_min_of(id), ...(put_on && { put_on }) }];
  });
}

/** When the first section of these zones went on; undefined while none has. */
export function begun_ms(zones: readonly Zone[]): number | undefined {
  const begun = zones.flatMap(({ id, first_section_at: at }) =>
    at ? [on_this_clock(at, id)] : [],
  );
  return begun.length > 0 ? Math.min(...begun) : undefined;
}

function on_this_clock(moment: string, zone_id: string): number {
  return Date.parse(moment) + moved_since(zone_id);
}

function minutes_between(from_ms: number, to_ms: number): number {
  return Math.min(MOST_MIN, Math.max(0, Math.floor((to_ms - from_ms) / MINUTE_MS)));
}

/** Returns how far the work on a service is, in whole minutes; undefined before it begins. */
export function minute_of_work(service_id: string): number | undefined {
  const began_ms = begun_ms(zones_in_order(service_id));
  return began_ms === undefined ? undefined : minutes_between(began_ms, now_ms.value);
}

/**
 * Keeps asking as zones, windows and hands change, and as work is late; returns the function that
 * stops it.
 */
export function watch_schedule(service_id: string): () => void {
  const minute = computed(() => minute_of_work(service_id));
  return effect(() => {
    const open = zones_in_order(service_id);
    const zones = asked_zones(open, begun_ms(open));
    const now_min = minute.value ?? 0;
    const request = { zones, ...work.value, now_min };
    const before = schedule.asked.peek();
    // An order counts until something is late: a new one each minute would only stir the page.
    const stands =
      before.state === "answered" &&
      is_about_the_same(before.request, request) &&
      !is_late(before.answer.reply.steps, before.request.now_min ?? 0, now_min);
    if (zones.length < 2) schedule.drop();
    else if (!stands) schedule.put(request);
  });
}

/** Whether two questions differ at most in the minute they are asked at. */
function is_about_the_same(one: ScheduleRequest, other: ScheduleRequest): boolean {
  return JSON.stringify({ ...one, now_min: 0 }) === JSON.stringify({ ...other, now_min: 0 });
}

let last: { request: ScheduleRequest; reply: ScheduleReply } | undefined;

/** The order to show: this minute's, or an earlier minute's until it is there. */
export const shown_order = computed((): ScheduleReply | undefined => {
  const asked = schedule.asked.value;
  if (asked.state === "answered") last = { request: asked.request, reply: asked.answer.reply };
  if (asked.state === "nothing" || asked.state === "failed") return undefined;
  return last && is_about_the_same(last.request, asked.request) ? last.reply : undefined;
});

/** Applies a change that makes the order possible, if it is about hands and rinses. */
export function take_mend(service_id: string, { do: what, minutes, zones: names }: Mend): void {
  if (what === "second_hands") work.value = { ...work.value, hands: 2 };
  if (what === "rinse_shared") work.value = { ...work.value, rinse: "shared" };
  if (what === "rinse_separate") work.value = { ...work.value, rinse: "separate" };
  if (minutes === undefined) return;
  if (what === "rinse_faster") work.value = { ...work.value, basin_minutes: minutes };
  if (what !== "apply_faster") return;
  for (const { id, name } of zones_in_order(service_id)) {
    if (names.includes(name ?? "")) put_apply_min(id, minutes);
  }
}
