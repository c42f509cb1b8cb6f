// The mix in hand: the one that was mixed, the one tapped, or the first of the list.
import { computed, signal } from "@preact/signals";
import type { Formula, Hair, Mix, Product } from "../api/shapes";
import { one } from "../records/read";
import { is_drawn } from "../references/ladder";
import { shelf } from "../shelf/shelf";
import { bench_zone } from "./bench";
import { hair_entry } from "./entries";
import { as_learnt } from "./learnt";
import { hair_of } from "./requests";

/** The formula whose strip is shown; null while the question it would answer is open. */
export const chosen_formula = signal<Formula | null>(null);

/** Returns what tells one mix from another: its parts. */
export function mix_key(mix: Mix): string {
  return JSON.stringify(mix.parts.map(({ product, grams }) => [product, grams]));
}

const zone = computed(() => (bench_zone.value ? one("zone", bench_zone.value).value : undefined));

/** The mix of the zone that is laid out, else the chosen formula's; null for none. */
export const mix_in_hand = computed<Mix | null>(
  () => zone.value?.mix ?? chosen_formula.value?.mix ?? null,
);

/** The products to ask with: the shelf, and products of the mix in hand that have left it since. */
export const products_in_hand = computed<readonly Product[]>(() => {
  const { products } = shelf.value;
  const here = new Set(products.map(({ id }) => id));
  const gone = (zone.value?.products ?? []).filter(({ id }) => !here.has(id));
  return gone.length > 0 ? [...products, ...gone] : products;
});

/** The hair as entered, with the speed and uptake this client's head showed before. */
export const hair_entered = computed<Hair | null>(() => {
  const hair = hair_of(hair_entry.value);
  return hair && as_learnt(hair, one("service", zone.value?.service ?? "").value?.client);
});

/** Whether the hair as entered is drawn ahead, so that nobody needs to work out its colours. */
export const hair_is_drawn = computed(() => {
  const { by_reading, white_share, already_on, level, warmth } = hair_entry.value;
  return !by_reading && white_share === 0 && already_on.length === 0 && is_drawn(level, warmth);
});

/** The hair of a zone as its looks have shown it; null before the first look. */
export const judged_hair = signal<{ zone: string; hair: Hair } | null>(null);

/** The hair under the mix in hand: as judged, else as the mix was taken for, else as entered. */
export const hair_in_hand = computed<Hair | null>(() => {
  const judged = judged_hair.value;
  if (judged && judged.zone === bench_zone.value) return judged.hair;
  const { mix, hair } = zone.value ?? {};
  return mix && hair ? hair : hair_entered.value;
});
