// The products at hand, as last fetched; kept, so that a shelf is there before the network is.
import { computed, signal } from "@preact/signals";
import { send } from "../api/client";
import type { Mix, Product, Shelf } from "../api/shapes";
import { kept } from "./kept";

export const shelf = kept<{ products: Product[]; demo: boolean }>("shelf", {
  products: [],
  demo: false,
});

/** Why the shelf could not be fetched; empty when it could. */
export const shelf_fault = signal("");

const by_id = computed(() => new Map(shelf.value.products.map((product) => [product.id, product])));

/** Fetches the shelf; what was kept stands until it is here. */
export async function fetch_shelf(): Promise<void> {
  try {
    const { products, demo = false } = await send<Shelf>("/api/products");
    shelf_fault.value = "";
    if (JSON.stringify(products) !== JSON.stringify(shelf.peek().products)) {
      shelf.value = { products, demo };
    }
  } catch (why) {
    shelf_fault.value = why instanceof Error ? why.message : String(why);
  }
}

/** Returns a product of the shelf, or undefined once it has left it. */
export function product_of(id: string): Product | undefined {
  return by_id.value.get(id);
}

/** Returns a product as it is spoken of: "Still 9 violet blue". */
export function product_words(id: string): string {
  const product = product_of(id);
  if (!product) return id;
  return product.name.startsWith(product.line) ? product.name : `${product.line} ${product.name}`;
}

/** Returns the products of a mix as one name: "Still 9 violet blue + clear". */
export function mix_words(mix: Mix): string {
  return mix.parts
    .map(({ product }, place) => {
      const known = product_of(product);
      return place === 0 || !known ? product_words(product) : known.name;
    })
    .join(" + ");
}
