// The ladder's rungs: the tare first, then each pour with its reading.
import type { MixReply } from "../../api/shapes";

interface Rung {
  /** What the scale shows then, split so that the figure can be large: "47.4" and "g". */
  figure: string;
  unit: string;
  name: string;
  amount: string;
}

const TARE: Rung = { figure: "0", unit: "", name: "Tare", amount: "the empty bowl on the scale" };

/** Returns the rungs from the tare on. */
export function rungs_of({ recipe }: Pick<MixReply, "recipe">): Rung[] {
  const pours = recipe.map(({ name, words, reading_words }) => {
    const [figure = "", unit = ""] = reading_words.split(" ");
    return { figure, unit, name, amount: words };
  });
  const unit = pours[0]?.unit ?? "g";
  return [{ ...TARE, unit }, ...pours];
}

/** Returns how many rungs are done after a tap on one: up to it, or all before it to undo it. */
export function done_after(tapped: number, done: number): number {
  return tapped === done - 1 ? tapped : tapped + 1;
}

/** Returns the present order: what to pour next, and up to which reading. */
export function next_words(rungs: Rung[], done: number): string {
  const next = rungs[done];
  if (!next) {
    const last = rungs.at(-1);
    return `All is in: ${last?.figure} ${last?.unit}`;
  }
  if (done === 0) return "Tared: the scale shows 0";
  return `Poured to ${next.figure} ${next.unit}`;
}
