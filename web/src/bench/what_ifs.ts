// The same mix on other hair: which changes can be tried, and on which hair.
import { computed } from "@preact/signals";
import type { Hair, Product } from "../api/shapes";
import type { what_ifs } from "../engine/questions";
import { shelf } from "../shelf/shelf";
import { hair_entry } from "./entries";
import { hair_of } from "./requests";

export type WhatIf = keyof typeof what_ifs;

interface Change {
  name: string;
  /** Returns the changed hair, or why it cannot change so. */
  of: (hair: Hair, products: readonly Product[]) => Hair | string;
}

const VIOLET_MINUTES = 3;
const MOST_POROUS = 0.95;

/** The changes to try the same mix on, in the order shown. */
export const WHAT_IFS: Record<WhatIf, Change> = {
  deeper: {
    name: "a level deeper",
    of: (hair) =>
      hair.level == null
        ? "A reading fixes the level. Enter the hair by looking to try deeper."
        : hair.level <= 1
          ? "There is no level below 1."
          : { ...hair, level: Math.max(1, hair.level - 1) },
  },
  after_violet: {
    name: "after violet shampoo",
    of: (hair, products) => {
      const violet = products.find((p) => p.class === "direct" && p.tone.includes("violet"));
      if (!violet) return "Your shelf has no violet shampoo.";
      if (hair.level == null) return "A reading already includes colour on the hair.";
      const mix = { parts: [{ product: violet.id, grams: 10 }], minutes: VIOLET_MINUTES };
      return { ...hair, already_on: [...(hair.already_on ?? []), mix] };
    },
  },
  more_porous: {
    name: "more porous",
    of: (hair) =>
      (hair.porosity ?? 0.5) >= MOST_POROUS
        ? "This hair is already as porous as it gets."
        : { ...hair, porosity: Math.min(MOST_POROUS, (hair.porosity ?? 0.5) + 0.25) },
  },
  dry_applied: {
    name: "dry when applied",
    of: (hair) => (hair.damp === 0 ? "The mix goes on dry already." : { ...hair, damp: 0 }),
  },
};

export const WHAT_IF_ORDER = Object.keys(WHAT_IFS) as WhatIf[];

/** The hair for each what-if, or why there is none. */
export const what_if_hair = computed(() => {
  const hair = hair_of(hair_entry.value);
  const { products } = shelf.value;
  return Object.fromEntries(
    WHAT_IF_ORDER.map((name) => [
      name,
      hair ? WHAT_IFS[name].of({ ...hair, also: [] }, products) : "The hair is not entered yet.",
    ]),
  ) as Record<WhatIf, Hair | string>;
});
