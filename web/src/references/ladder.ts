// The levels and warmths that bare hair is drawn at, without the colours: the bench reads these at
// first paint, and the colours come with the first screen that shows them.
import ladder from "./ladder.generated.json";

export const LEVELS: readonly number[] = ladder.levels;
export const WARMTHS: readonly number[] = ladder.warmths;

/** Returns whether bare hair of this level and warmth is drawn. */
export function is_drawn(level: number, warmth: number): boolean {
  return LEVELS.includes(level) && WARMTHS.includes(warmth);
}
