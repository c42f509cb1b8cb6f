// What is in a bowl, a row each: the recipe at the scale and a kept formula say it alike.
import type { Mix } from "../api/shapes";
import { strength, weight } from "../device/settings";
import { product_words } from "../shelf/shelf";

interface BowlRow {
  /** The product's id, and "developer" for the developer. */
  id: string;
  /** In the unit of the settings: "35 g". */
  amount: string;
  name: string;
}

/** Returns a mix's rows as they are weighed, the developer last where there is any. */
export function bowl_rows({ parts, developer }: Mix): BowlRow[] {
  const rows = parts.map(({ product, grams }) => ({
    id: product,
    amount: weight(grams),
    name: product_words(product),
  }));
  if (!developer || developer.grams <= 0) return rows;
  const name = `developer ${strength(developer.percent)}`;
  return [...rows, { id: "developer", amount: weight(developer.grams), name }];
}
