// What is drawn from: amounts, look words, acts and wishes.
import type { Wish } from "../../src/api/shapes";

/** How much of what was chosen goes on: a tenth of a head to twice of it, to the gram. */
export const SHARES = [0.1, 0.25, 0.5, 1, 1.5, 2] as const;
export const to_the_scale = (grams: number) => Math.max(1, Math.round(grams));
export const WORDS = [
  ...(["as_shown", "pinker", "yellower", "greener", "more_violet"] as const),
  ...(["greyer", "darker", "lighter", "patchy"] as const),
];
const ACTS = ["time", "time", "time", "look", "look", "surprise", "answer", "undo"] as const;
export const MORE_ACTS = [...ACTS, "weigh", "move", "rinse", "time", "look"] as const;
export const WISHES: readonly Wish[] = [
  { level: 10, tone: ["pearl"], tolerance: 3 },
  { level: 9.5, tone: ["beige"], tolerance: 3 },
  { level: 9, tone: ["violet"], tolerance: 4 },
];
