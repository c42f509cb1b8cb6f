// What a lightener's clock goes by: its leaflet's maximum, and a look at every check interval.
import type { Window } from "../../api/shapes";
import type { Entity, LightenerSaid } from "../../records/shapes";

type Zone = Entity<"zone">;

/** What stands where a toner has its window. */
export const NO_COLOUR: Window = {
  reason: "No colour is promised under a lightener: look, and rinse when it is light enough.",
};

/** What is said of a lightener before anybody has read its leaflet: no maximum. */
export const UNSAID: LightenerSaid = {
  kind: "powder",
  developer_percent: 6,
  check_every_min: 5,
  mix_ratio: 2,
  grams: 30,
};

/** Whether something is mixed for a zone, so that it can go on. */
export function is_mixed({ mix, work, lightener }: Zone): boolean {
  return work === "lightener" ? lightener?.max_min !== undefined : mix !== undefined;
}

/** Returns the minutes to look at, from the last look on; undefined where no lightener is on. */
export function checks_of({ work, lightener, looked }: Zone): number[] | undefined {
  const { check_every_min, max_min } = lightener ?? {};
  if (work !== "lightener" || !check_every_min || !max_min) return undefined;
  const from = looked?.minute ?? 0;
  const count = Math.max(0, Math.ceil((max_min - from) / check_every_min) - 1);
  return Array.from({ length: count }, (_, at) => from + (at + 1) * check_every_min);
}
