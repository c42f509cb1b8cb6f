// The mix that is spoken of: the one that was mixed, the one tapped, or the first of the list.
import { computed, signal } from "@preact/signals";
import type { Formula, Mix, Product } from "../api/shapes";
import { bench_zone } from "./bench";
import { one } from "./read";
import { shelf } from "./shelf";

/** The formula whose strip is shown; null while the question it would answer is open. */
export const chosen_formula = signal<Formula | null>(null);

/** Returns what tells one mix from another: its parts. */
export function mix_key(mix: Mix): string {
  return JSON.stringify(mix.parts.map(({ product, grams }) => [product, grams]));
}

const zone = computed(() => (bench_zone.value ? one("zone", bench_zone.value).value : undefined));

/** What was mixed for the zone that is laid out, else the chosen formula's mix; null for none. */
export const mix_in_hand = computed<Mix | null>(
  () => zone.value?.mix ?? chosen_formula.value?.mix ?? null,
);

/** The products to ask with: the shelf, and those of the mix in hand that have since left it. */
export const products_in_hand = computed<readonly Product[]>(() => {
  const { products } = shelf.value;
  const here = new Set(products.map(({ id }) => id));
  const gone = (zone.value?.products ?? []).filter(({ id }) => !here.has(id));
  return gone.length > 0 ? [...products, ...gone] : products;
});
