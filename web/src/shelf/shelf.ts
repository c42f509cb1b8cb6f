// The products at hand: your own, as entered here; the demo's until there is one.
import { computed, signal } from "@preact/signals";
import { send } from "../api/client";
import type { Mix, Product, Shelf } from "../api/shapes";
import { kept } from "../device/kept";
import { all, one } from "../records/read";
import type { Entity } from "../records/shapes";
import { learnt_of } from "./known";

/** The invented shelf, as last fetched; kept, so that one is there before the network. */
const demo_shelf = kept<{ products: Product[]; demo: boolean }>("shelf", {
  products: [],
  demo: false,
});

/** Why the demo shelf could not be fetched; empty when it could. */
export const shelf_fault = signal("");

/** Fetches the demo shelf; the kept one stays until it is here. */
export async function fetch_shelf(): Promise<void> {
  try {
    const { products, demo = false } = await send<Shelf>("/api/products");
    shelf_fault.value = "";
    if (JSON.stringify(products) !== JSON.stringify(demo_shelf.peek().products)) {
      demo_shelf.value = { products, demo };
    }
  } catch (why) {
    shelf_fault.value = why instanceof Error ? why.message : String(why);
  }
}

/** Returns a shade of a line as calculations take it; undefined while something is missing. */
export function as_product(
  line: Entity<"line"> | undefined,
  shade: Entity<"product">,
): Product | undefined {
  const labelled = by_label(line, shade);
  return labelled && { ...labelled, ...learnt_of(line, shade.id) };
}

/** Returns the same by its label alone, as if no swatch had been painted. */
export function by_label(
  line: Entity<"line"> | undefined,
  shade: Entity<"product">,
): Product | undefined {
  const { name, class: of_class, window } = line ?? {};
  const { level, tone } = shade;
  if (!name || !of_class || !window || !level || !tone || tone.length === 0) return undefined;
  const { mix_ratio, developer_percent = [], may_mix_with, consistency, promised_on } = line ?? {};
  const { dyes, price_per_100g } = shade;
  const direct = of_class === "direct";
  // What its leaflet says is asked for, and never filled in.
  if (!direct && mix_ratio === undefined) return undefined;
  return {
    id: shade.id,
    name: shade.name || shade.code || tone.join(" "),
    line: name,
    class: of_class,
    level,
    tone,
    window,
    developer_percent: direct ? [] : developer_percent,
    mix_ratio: direct ? 0 : (mix_ratio ?? 0),
    ...(dyes && { dyes }),
    ...(may_mix_with && { may_mix_with }),
    ...(consistency && { consistency }),
    ...(promised_on && promised_on !== "any" && { promised_on }),
    ...(price_per_100g !== undefined && { price_per_100g }),
  };
}

const own_products = computed(() =>
  all("product").value.flatMap((shade) => {
    if (shade.in_stock === false) return [];
    const product = as_product(one("line", shade.line ?? "").value, shade);
    return product ? [product] : [];
  }),
);

/** The products to mix from. `demo` is true while they are the invented ones. */
export const shelf = computed<{ products: Product[]; demo: boolean }>(() =>
  own_products.value.length > 0 ? { products: own_products.value, demo: false } : demo_shelf.value,
);

// An old mix may name a product that has left the shelf since, or the demo's.
const by_id = computed(
  () =>
    new Map(
      [...demo_shelf.value.products, ...own_products.value].map((product) => [product.id, product]),
    ),
);

/** Returns a product by its id, or undefined once nobody knows it. */
export function product_of(id: string): Product | undefined {
  const known = by_id.value.get(id);
  if (known) return known;
  const shade = one("product", id).value;
  return shade && as_product(one("line", shade.line ?? "").value, shade);
}

/** Returns the batch of a product's tube that is open, or undefined where nobody noted one. */
export function open_batch(product: string): string | undefined {
  return all("tube").value.findLast(
    (tube) => tube.product === product && !tube.finished_at && tube.batch,
  )?.batch;
}

/** Returns the shades of a line, by level and then as they were typed. */
export function shades_of(line: string): readonly Entity<"product">[] {
  return all("product")
    .value.filter((shade) => shade.line === line)
    .sort((a, b) => (b.level ?? 0) - (a.level ?? 0));
}

/** Returns a product's name in words: "Still 9 violet blue". */
export function product_words(id: string): string {
  const product = product_of(id);
  return product ? tube_words(product) : "a product no longer on the shelf";
}

/** Returns a tube's name with its line, said once: "Still 8 violet". */
export function tube_words({ line, name }: { line?: string; name: string }): string {
  return line && !name.startsWith(line) ? `${line} ${name}` : name;
}

/**
 * Whether two products may go into one bowl by their leaflets, as the engine has it: one class, and
 * one line unless each line names the other. tests/vectors/one_bowl.json holds both to it.
 */
export function may_share_a_bowl(one: Product, other: Product): boolean {
  if (one.class !== other.class) return false;
  const named = (by: Product, line: string) => (by.may_mix_with ?? []).includes(line);
  return one.line === other.line || (named(other, one.line) && named(one, other.line));
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
