// What of the field this shelf cannot land, and the words for why.
import type { Reach } from "../../../api/shapes";
import { type Spot, type Tones, tones_at } from "./places";

export type Why = NonNullable<Reach["why"]>;

export const WHY_WORDS: Record<Why, string> = {
  lift_first: "lift first for this",
  wash_first: "wash first for this",
  no_product: "no tube goes here",
};

type Known = (level: number, tone: string) => Reach | undefined;

/** Returns why a wish cannot be landed, or undefined where it can or nobody knows yet. */
export function why_not(known: Known, level: number, tone: string): Why | undefined {
  const reach = known(level, tone);
  return reach && !reach.within ? (reach.why ?? "no_product") : undefined;
}

/** Returns why a place cannot be landed; between two tones only where neither of them can. */
export function why_not_at(known: Known, { level, stop }: Spot, tones: Tones): Why | undefined {
  const all = tones_at(tones, stop).map((tone) => why_not(known, level, tone));
  return all.every(Boolean) ? all[0] : undefined;
}

export interface Label {
  why: Why;
  row: number;
  from: number;
  count: number;
}

const LEAST_COLUMNS = 2;

/** Returns where each reason has room: the longest run of tones in a row, the uppermost of equals. */
export function labels_of(known: Known, rows: readonly number[], tones: Tones): Label[] {
  const longest = new Map<Why, Label>();
  rows.forEach((level, row) => {
    let from = 0;
    tones.forEach((tone, at) => {
      const why = why_not(known, level, tone);
      const before = tones[at - 1];
      if (before === undefined || why !== why_not(known, level, before)) from = at;
      const count = at - from + 1;
      if (why && count > (longest.get(why)?.count ?? LEAST_COLUMNS - 1)) {
        longest.set(why, { why, row, from, count });
      }
    });
  });
  return [...longest.values()];
}
