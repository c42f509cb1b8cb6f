// Each shade's colour on hair without pigment: asked from the engine one after the other, once.
import { signal } from "@preact/signals";
import type { Product } from "../../api/shapes";
import { ask } from "../../engine/ask";

const found = signal<ReadonlyMap<string, string>>(new Map());
const asked = new Set<string>();

/** Returns the screen colour of a product, or undefined while the engine works it out. */
export function swatch_of(product: Product): string | undefined {
  const { id: _, name: __, price_per_100g: ___, ...what_shows } = product;
  const key = JSON.stringify(what_shows);
  const known = found.value.get(key);
  if (!known && !asked.has(key)) {
    asked.add(key);
    void work_out(key, product);
  }
  return known;
}

async function work_out(key: string, product: Product): Promise<void> {
  const shown = { ...product, id: "shade" };
  try {
    const { reply } = await ask("predictions", {
      hair: { level: Math.min(10.5, product.level), warmth: 0.2, damp: 0 },
      mix: { parts: [{ product: shown.id, grams: 40 }], minutes: product.window.max },
      products: [shown],
      minutes: [product.window.max],
    });
    const hex = reply.strip[0]?.if_rinsed.hex;
    if (hex) found.value = new Map(found.peek()).set(key, hex);
  } catch {
    // Asked again when it next shows: a colour is no reason to stop typing shades.
    asked.delete(key);
  }
}
