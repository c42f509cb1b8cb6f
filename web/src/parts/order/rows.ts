// The work in order, one row for steps at the same time, and the step due next.
import type { Mend, ScheduleReply, Step } from "../../api/shapes";
import { minutes_words } from "../words";

export interface Row {
  starts_min: number;
  ends_min: number;
  order: string;
  note: string;
}

/** Returns "a", "a and b", "a, b and c". */
function listed(names: string[]): string {
  const last = names.at(-1) ?? "";
  return names.length < 2 ? last : `${names.slice(0, -1).join(", ")} and ${last}`;
}

/** Returns the rows; zones that share a rinse share a row. */
export function rows_of(steps: Step[]): Row[] {
  const together = new Map<string, Step[]>();
  for (const step of steps) {
    // Separate rinses follow one another; those that begin and end at once are one.
    const key =
      step.do === "rinse" ? `${step.starts_min} ${step.ends_min}` : `${step.zone} goes on`;
    together.set(key, [...(together.get(key) ?? []), step]);
  }
  const two = steps.some(({ hands }) => hands === 2);
  return [...together.values()].flatMap((same) => {
    const [first] = same;
    if (!first) return [];
    const { starts_min, ends_min } = first;
    if (first.do === "apply") {
      const who = two ? `, ${first.hands === 1 ? "first" : "second"} pair of hands` : "";
      const note = `${minutes_words(ends_min - starts_min)}${who}`;
      return [{ starts_min, ends_min, order: `Put ${first.zone} on`, note }];
    }
    const order = `Rinse ${listed(same.map(({ zone }) => zone))}${same.length > 1 ? " together" : ""}`;
    return [{ starts_min, ends_min, order, note: listed(same.map(room_words)) }];
  });
}

/** Returns how far a zone is at its rinse, and its slack. */
function room_words({ developed_min = 0, slack_min = 0 }: Step): string {
  const at = `at its minute ${developed_min}`;
  if (slack_min < 0) return `${at}, ${-slack_min} min outside its window`;
  return `${at}, ${slack_min === 0 ? "no minute" : `${slack_min} min`} to spare`;
}

/** Whether work ordered at one minute is late at another: begun too late, or not done in time. */
export function is_late(steps: Step[], ordered_min: number, now_min: number): boolean {
  return steps.some(({ starts_min, ends_min }) =>
    starts_min < ordered_min ? ends_min < now_min : starts_min < now_min,
  );
}

/** Returns the place of the due row: the last one begun and not over, else the next. */
export function due_at(rows: Row[], now_min: number): number {
  const begun = rows.findLastIndex((row) => row.starts_min <= now_min && now_min < row.ends_min);
  return begun >= 0 ? begun : rows.findIndex((row) => row.starts_min >= now_min);
}

/** Returns when a row is due, from now: "now", "in 7 min", "done". */
export function when_words({ starts_min, ends_min }: Row, now_min: number): string {
  if (now_min < starts_min) return `in ${starts_min - now_min} min`;
  return now_min < ends_min || starts_min === now_min ? "now" : "done";
}

/** Returns every mend once, in the order given. */
export function mends_of({ impossible }: Pick<ScheduleReply, "impossible">): Mend[] {
  const mends = impossible.flatMap((miss) => miss.mends);
  return [...new Map(mends.map((mend) => [mend.words, mend])).values()];
}
