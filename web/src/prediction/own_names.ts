// What each shade makes alone on the hair it is meant for, in colour and in words: asked once, for
// all shades that show together.
import { signal } from "@preact/signals";
import type { LabelsReply, Product } from "../api/shapes";
import { ask, Refused } from "../engine/ask";

type Told = LabelsReply["labels"][number];

/** The usual tolerance of a wish, CIEDE2000: within it a shade meets its own name. */
const NAME_MET = 3;

const told = signal<ReadonlyMap<string, Told>>(new Map());
const asked = new Set<string>();
let waiting: [key: string, product: Product][] = [];

/** Returns what a shade makes alone; undefined while the engine works it out. */
export function told_of(product: Product): Told | undefined {
  const { id: _, name: __, price_per_100g: ___, ...what_counts } = product;
  const key = JSON.stringify(what_counts);
  const known = told.value.get(key);
  if (!known && !asked.has(key)) {
    asked.add(key);
    if (waiting.length === 0) setTimeout(ask_for_waiting);
    waiting.push([key, product]);
  }
  return known;
}

/** Returns what a shade makes in place of its name; "" where it meets its name. */
export function instead_words({ hair, makes, delta_e = 0 }: Told): string {
  return delta_e > NAME_MET ? `Alone on ${hair} it makes ${makes.words} instead.` : "";
}

function ask_for_waiting(): void {
  const now = waiting;
  waiting = [];
  void work_out(now);
}

async function work_out(shades: readonly [key: string, product: Product][]): Promise<void> {
  const products = shades.map(([, product], place) => ({ ...product, id: `shade${place}` }));
  try {
    const { reply } = await ask("labels", { products });
    const found = new Map(told.peek());
    for (const [place, label] of reply.labels.entries()) {
      const key = shades[place]?.[0];
      if (key) found.set(key, label);
    }
    told.value = found;
  } catch (why) {
    // One shade that no bowl can hold refuses all: then each is asked for on its own.
    if (why instanceof Refused && shades.length > 1) {
      for (const shade of shades) await work_out([shade]);
    } else if (!(why instanceof Refused)) {
      // Asked again when it next shows: a name is no reason to stop typing shades.
      for (const [key] of shades) asked.delete(key);
    }
  }
}
