// Asks in which order the zones of a head are put on and rinsed.
import { effect } from "@preact/signals";
import type { Mend, ScheduleRequest } from "../../api/shapes";
import { line } from "../../engine/line";
import { kept } from "../../records/kept";
import { zones_of } from "../../records/services";

export const schedule = line("schedules");

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

/** Keeps asking as zones, windows and hands change; returns the end of it. */
export function watch_schedule(service_id: string): () => void {
  return effect(() => {
    const zones = zones_in_order(service_id).flatMap(
      ({ id, name, window }): ScheduleRequest["zones"] =>
        window ? [{ name: name ?? "", window, apply_min: apply_min_of(id) }] : [],
    );
    if (zones.length < 2) schedule.drop();
    else schedule.put({ zones, ...work.value });
  });
}

/** Takes what would make the order possible, where it is a matter of hands and rinses. */
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
