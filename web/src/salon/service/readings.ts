// The looks at a zone, and what they are asked with.
import type { JudgementRequest, Product, Reading } from "../../api/shapes";
import { all } from "../../records/read";
import type { Entity } from "../../records/shapes";
import { product_of } from "../../shelf/shelf";
import type { Zone } from "./services";

/** Returns the looks at a zone, as they were taken. */
export function readings_of(zone_id: string): readonly Entity<"reading">[] {
  const found = all("reading").value.filter(({ zone }) => zone === zone_id);
  const corrected = new Set(found.map(({ corrects }) => corrects));
  return found.filter(({ id }) => !corrected.has(id));
}

/** Returns what to ask of the looks at a zone; null where there was none, or nothing to look at. */
export function judgement_of(zone: Zone): JudgementRequest | null {
  const { mix, hair, wish } = zone;
  const readings = readings_of(zone.id).flatMap(
    ({ minute, where, source, lab, words }): Reading[] =>
      minute === undefined || !where || !source || !(lab || words)
        ? []
        : [{ minute, where, source, ...(lab ? { lab } : { words: words ?? "as_shown" }) }],
  );
  if (!mix || !hair || !wish || readings.length === 0) return null;
  return { hair, mix, wish, readings, products: products_of(zone) };
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
