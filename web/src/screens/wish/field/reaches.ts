// Which wishes of the field this shelf can land: whole levels first, then the halves between.
// Nothing is asked twice about the same hair and shelf.
import { computed, signal } from "@preact/signals";
import type { Reach, ReachesRequest } from "../../../api/shapes";
import { bench_zone } from "../../../bench/bench";
import { hair_entered } from "../../../bench/chosen";
import { amounts, hair_entry, NOTHING_ENTERED, reached, wish_entry } from "../../../bench/entries";
import { limits_of } from "../../../bench/requests";
import { ask } from "../../../engine/ask";
import { shelf } from "../../../shelf/shelf";
import type { Tones } from "./places";

type About = Omit<ReachesRequest, "levels" | "tones">;

/** Whether the hair has had its turn: a try-out begins with it, a service comes to it later. */
export const hair_is_said = computed(
  () =>
    !bench_zone.value ||
    reached.value.some((section) => ["hair", "mix", "strip", "result"].includes(section)) ||
    JSON.stringify(hair_entry.value) !== JSON.stringify(NOTHING_ENTERED.hair),
);

/** The hair, the shelf and the limits that reaches are asked about; null while some is missing. */
export const about = computed<About | null>(() => {
  const hair = hair_entered.value;
  const { products } = shelf.value;
  if (!hair_is_said.value || !hair || products.length === 0) return null;
  const limits = limits_of(amounts.value, products);
  return { hair, products: [...products], limits, tolerance: wish_entry.value.tolerance };
});

const told = signal<{ about: string; cells: ReadonlyMap<string, Reach> }>({
  about: "",
  cells: new Map(),
});

/** Why the last question got no answer; empty while there is none. */
export const reaches_failed = signal("");

const cell = (level: number, tone: string) => `${level} ${tone}`;

/** Returns what is known of a wish: a half level until its answer goes by the levels beside it. */
export function reach_at(level: number, tone: string): Reach | undefined {
  const { cells } = told.value;
  const known = cells.get(cell(level, tone));
  if (known) return known;
  const beside = [level - 0.5, level + 0.5].flatMap((each) => cells.get(cell(each, tone)) ?? []);
  return beside.find(({ within }) => within) ?? beside[0];
}

/** Whether all of these wishes were answered for the hair and the shelf as they are. */
export function all_known(levels: readonly number[], tones: Tones): boolean {
  const { about: key, cells } = told.value;
  return (
    key === JSON.stringify(about.value) &&
    levels.every((level) => tones.every((tone) => cells.has(cell(level, tone))))
  );
}

/**
 * Asks for what is not known yet of these wishes. An aborted question says nothing.
 *
 * Throws nothing: `reaches_failed` says why there is no answer.
 */
export async function find_reaches(
  of: About,
  levels: readonly number[],
  tones: Tones,
  signal: AbortSignal,
): Promise<void> {
  const key = JSON.stringify(of);
  if (told.peek().about !== key) told.value = { about: key, cells: new Map() };
  reaches_failed.value = "";
  const unknown = levels.filter((level) =>
    tones.some((tone) => !told.peek().cells.has(cell(level, tone))),
  );
  const parts = [
    unknown.filter(Number.isInteger),
    unknown.filter((each) => !Number.isInteger(each)),
  ];
  try {
    for (const part of parts.filter(({ length }) => length > 0)) {
      const request = { ...of, levels: part, tones: [...tones] };
      const { reply } = await ask("reaches", request, { signal });
      const come = reply.reaches.map((each) => [cell(each.level, each.tone), each] as const);
      told.value = { about: key, cells: new Map([...told.peek().cells, ...come]) };
    }
  } catch (why) {
    if (!signal.aborted) reaches_failed.value = why instanceof Error ? why.message : String(why);
  }
}
