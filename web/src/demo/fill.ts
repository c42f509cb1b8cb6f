// Writes the invented day into the demo's own store, as operations like those of any act.
import type { Operation } from "../outbox/operation";
import { keep_meta, record } from "../outbox/operations";
import { in_demo } from "../outbox/world";
import { drafts_of } from "../records/draft";
import type { Kind } from "../records/fold";
import type { Writing } from "../records/shapes";
import { instant_of, with_moments } from "./times";

/** One act of the day: the records it makes, each with its fields, and who made them when. */
export interface Act {
  at: string;
  by: string;
  records: readonly { kind: Kind; id: string; fields: Writing<Kind> }[];
}

export interface Day {
  /** Who of the invented team works on this phone. */
  writer: string;
  acts: readonly Act[];
}

/** Returns the day as it is kept in the project; loaded only when somebody opens it. */
export async function demo_day(): Promise<Day> {
  const { default: day } = await import("../../../seed_demo/day.json");
  return day as unknown as Day;
}

/**
 * Writes a day that is opened at `opened_ms` into an empty store, all of it or nothing; returns its
 * operations. Each carries the time at which somebody would have written it. Call it before the
 * records are read.
 *
 * Throws where this window shows the salon's own records.
 */
export async function fill(day: Day, opened_ms: number): Promise<readonly Operation[]> {
  if (!in_demo) throw new Error("The demo day is never written beside real records.");
  const acts = day.acts
    .map((act) => ({ ...act, at_ms: instant_of(act.at, opened_ms) }))
    .sort((a, b) => a.at_ms - b.at_ms);
  const operations = await record(
    () => 0,
    (_, stamp) =>
      acts.flatMap(({ at_ms, by, records }) =>
        records.flatMap(({ kind, id, fields }) =>
          drafts_of(
            { do: "create", kind, id, fields: with_moments(fields, opened_ms) },
            undefined,
            by,
          ).map((draft) => stamp(draft, at_ms)),
        ),
      ),
  );
  await keep_meta("writer", day.writer);
  return operations;
}
