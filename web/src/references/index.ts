// The drawn references: bare hair by level and warmth, dry and wet, and each tone word at each
// level. scripts/references.mjs writes them from the API's answers, so that they are there before
// any network.
import colours from "./colours.generated.json";
import { LEVELS, WARMTHS } from "./ladder";

export interface Look {
  dry: string;
  wet: string;
  words: string;
}

export { LEVELS, WARMTHS };
export const TONES: readonly string[] = colours.tones;

/** Returns drawn bare hair of a level and warmth, or undefined for one between them. */
export function bare_look(level: number, warmth: number, lifted: boolean): Look | undefined {
  const row = (lifted ? colours.lifted : colours.natural)[WARMTHS.indexOf(warmth)];
  const [dry, wet, words] = row?.[LEVELS.indexOf(level)] ?? [];
  return dry && wet && words ? { dry, wet, words } : undefined;
}

/** Returns the screen colour of a wish of one tone word at a drawn level, or undefined. */
export function wish_hex(level: number, tone: string): string | undefined {
  return colours.wishes[TONES.indexOf(tone)]?.[LEVELS.indexOf(level)];
}
