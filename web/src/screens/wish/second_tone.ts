// The second tone word of a wish: which way it leans the first, and which two words contradict.
// Both tables are common practice, no published source; the engine's colours agree with the ways.
import { capital } from "../../parts/words";

/** Which way a second word leans the first. */
export const LEANS: Readonly<Record<string, readonly (readonly [way: string, word: string])[]>> = {
  natural: [
    ["cooler", "ash"],
    ["warmer", "gold"],
    ["rosier", "rose"],
  ],
  beige: [
    ["cooler", "ash"],
    ["warmer", "gold"],
    ["rosier", "rose"],
  ],
  ash: [
    ["cooler", "silver"],
    ["warmer", "beige"],
    ["rosier", "violet"],
  ],
  pearl: [
    ["cooler", "silver"],
    ["warmer", "beige"],
    ["rosier", "rose"],
  ],
  silver: [
    ["cooler", "smoke"],
    ["warmer", "beige"],
    ["rosier", "violet"],
  ],
  smoke: [
    ["cooler", "blue"],
    ["warmer", "beige"],
    ["rosier", "violet"],
  ],
  violet: [
    ["cooler", "smoke"],
    ["warmer", "rose"],
  ],
  rose: [
    ["cooler", "violet"],
    ["warmer", "copper"],
  ],
  gold: [
    ["cooler", "beige"],
    ["warmer", "copper"],
  ],
  copper: [
    ["cooler", "beige"],
    ["redder", "red"],
    ["golder", "gold"],
  ],
  red: [
    ["cooler", "violet"],
    ["golder", "copper"],
  ],
  pink: [
    ["cooler", "violet"],
    ["warmer", "red"],
  ],
  purple: [
    ["cooler", "blue"],
    ["warmer", "pink"],
  ],
  blue: [["softer", "smoke"]],
  turquoise: [
    ["softer", "ash"],
    ["bluer", "blue"],
  ],
};

/** Each word with the words that it takes away: wished together they leave neither. */
export const TAKES_AWAY: Readonly<Record<string, readonly string[]>> = {
  ash: ["gold", "copper", "red"],
  silver: ["gold", "copper", "red"],
  smoke: ["gold", "copper", "red"],
  violet: ["gold"],
  purple: ["gold"],
  blue: ["gold", "copper"],
  turquoise: ["gold", "copper", "red", "rose", "pink"],
};

/** Returns why two tone words contradict each other, or "" where they do not. */
export function contradiction(first: string, second: string): string {
  const [cool, warm] = TAKES_AWAY[first]?.includes(second) ? [first, second] : [second, first];
  if (!TAKES_AWAY[cool]?.includes(warm)) return "";
  return `${capital(cool)} takes ${warm} away.`;
}
