// The mix that is spoken of: the one tapped, or the first of the list.
import { signal } from "@preact/signals";
import type { Formula, Mix } from "../api/shapes";

/** The formula whose strip is shown; null while the question it would answer is open. */
export const chosen_formula = signal<Formula | null>(null);

/** Returns what tells one mix from another: its parts. */
export function mix_key(mix: Mix): string {
  return JSON.stringify(mix.parts.map(({ product, grams }) => [product, grams]));
}
