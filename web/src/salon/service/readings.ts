// The looks at a zone, and what they are asked with.
import type { JudgementRequest, Product, Reading } from "../../api/shapes";
import { all } from "../../records/read";
import type { Entity } from "../../records/shapes";
import { product_of } from "../../shelf/shelf";
import type { Zone } from "./services";

/** One look at a zone, as it is on record. */
export type Look = Entity<"reading">;

/** Returns the looks at a zone, as they were taken; one that was put right by another is left out. */
export function readings_of(zone_id: string): readonly Look[] {
  const found = all("reading").value.filter(({ zone }) => zone === zone_id);
  const corrected = new Set(found.map(({ corrects }) => corrects));
  return found
    .filter(({ id }) => !corrected.has(id))
    .sort((a, b) => (a.at ?? "").localeCompare(b.at ?? "") || a.id.localeCompare(b.id));
}

/**
 * Returns the looks that foretell what a zone dries to: all of them while its mix is on, and then
 * those from before the rinse. A strand dried afterwards is the result itself.
 */
export function looks_of({ id, rinsed_at }: Zone): readonly Look[] {
  const found = readings_of(id);
  if (!rinsed_at) return found;
  const rinsed_ms = Date.parse(rinsed_at);
  return found.filter(({ where, at }) => where !== "dried" || Date.parse(at ?? "") < rinsed_ms);
}

/** Returns what to ask of looks at a zone; null where there was none, or nothing to look at. */
export function judgement_of(zone: Zone, looks: readonly Look[]): JudgementRequest | null {
  const { mix, hair, wish } = zone;
  const readings = looks.flatMap(asked_look);
  if (!mix || !hair || !wish || readings.length === 0) return null;
  return { hair, mix, wish, readings, products: products_of(zone) };
}

/** Returns a look as the engine is asked about it; nothing where it says nothing. */
export function asked_look({ minute, where, source, lab, words }: Look): Reading[] {
  if (minute === undefined || !where || !source || !(lab || words)) return [];
  return [{ minute, where, source, ...(lab ? { lab } : { words: words ?? "as_shown" }) }];
}

/** Returns the products of a zone's mix and of what was on its hair before. */
export function products_of({ mix, hair, products = [] }: Zone): Product[] {
  const mixes = [...(mix ? [mix] : []), ...(hair?.already_on ?? [])];
  const named = new Set(mixes.flatMap(({ parts }) => parts.map(({ product }) => product)));
  return [...named].flatMap((id) => {
    const found = products.find((product) => product.id === id) ?? product_of(id);
    return found ? [found] : [];
  });
}
