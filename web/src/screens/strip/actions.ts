// Asks for the strip of the chosen mix, and for the same mix on other hair.
import { computed, effect } from "@preact/signals";
import type { Hair, PredictionRequest, Product } from "../../api/shapes";
import { hair_in_hand, mix_in_hand, products_in_hand } from "../../bench/chosen";
import { hair_entry, strip_minute, what_ifs_shown, wish_entry } from "../../bench/entries";
import { hair_of, wish_of } from "../../bench/requests";
import { strip, what_ifs } from "../../engine/questions";
import { shelf } from "../../shelf/shelf";

export type WhatIf = keyof typeof what_ifs;

interface Change {
  name: string;
  /** Returns the hair so changed, or why it cannot be. */
  of: (hair: Hair, products: readonly Product[]) => Hair | string;
}

const VIOLET_MINUTES = 3;
const MOST_POROUS = 0.95;

/** What the same mix can be tried on, in the order shown. */
export const WHAT_IFS: Record<WhatIf, Change> = {
  deeper: {
    name: "a level deeper",
    of: (hair) =>
      hair.level == null
        ? "A reading fixes the level: enter the hair by looking to try a deeper one."
        : hair.level <= 1
          ? "There is no level below 1."
          : { ...hair, level: Math.max(1, hair.level - 1) },
  },
  after_violet: {
    name: "after violet shampoo",
    of: (hair, products) => {
      const violet = products.find((p) => p.class === "direct" && p.tone.includes("violet"));
      if (!violet) return "There is no violet shampoo on your shelf.";
      if (hair.level == null) return "A reading already sees what is on the hair.";
      const mix = { parts: [{ product: violet.id, grams: 10 }], minutes: VIOLET_MINUTES };
      return { ...hair, already_on: [...(hair.already_on ?? []), mix] };
    },
  },
  more_porous: {
    name: "more porous",
    of: (hair) =>
      (hair.porosity ?? 0.5) >= MOST_POROUS
        ? "This hair is as porous as it gets."
        : { ...hair, porosity: Math.min(MOST_POROUS, (hair.porosity ?? 0.5) + 0.25) },
  },
  dry_applied: {
    name: "dry when applied",
    of: (hair) => (hair.damp === 0 ? "The mix goes on dry already." : { ...hair, damp: 0 }),
  },
};

export const WHAT_IF_ORDER = Object.keys(WHAT_IFS) as WhatIf[];

/** The hair each what-if would be tried on, or why it cannot be. */
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

/** Asks for the strip as the choice changes, and for the what-ifs shown. Runs for good. */
export function watch_strip(): void {
  effect(() => {
    const hair = hair_in_hand.value;
    const request = hair && request_for(hair);
    if (request) strip.put(request);
    else strip.drop();
  });
  for (const name of WHAT_IF_ORDER) {
    effect(() => {
      const hair = what_if_hair.value[name];
      const shown = what_ifs_shown.value.includes(name);
      const request = shown && typeof hair !== "string" ? request_for(hair) : null;
      if (request) what_ifs[name].put(request);
      else what_ifs[name].drop();
    });
  }
}

function request_for(hair: Hair): PredictionRequest | null {
  const mix = mix_in_hand.value;
  const wish = wish_of(wish_entry.value);
  if (!mix || !wish) return null;
  const mixes = [mix, ...(hair.already_on ?? [])];
  const spoken_of = new Set(mixes.flatMap(({ parts }) => parts.map(({ product }) => product)));
  const products = products_in_hand.value.filter(({ id }) => spoken_of.has(id));
  return { hair, mix, products, wish };
}

/** The minutes of the strip shown, and the best one to rinse at, where there is one. */
export const minutes_shown = computed(() => {
  const asked = strip.asked.value;
  return asked.state === "answered" ? asked.answer.reply.strip.map(({ minute }) => minute) : [];
});
export const best_minute = computed(() => {
  const asked = strip.asked.value;
  const window = asked.state === "answered" ? asked.answer.reply.window : undefined;
  return window && "best" in window ? window.best : undefined;
});

/** The minute looked at; the last one where the strip has become shorter than that. */
export const minute_shown = computed(() =>
  Math.min(strip_minute.value, minutes_shown.value.at(-1) ?? 0),
);

/** Moves to a minute of the strip. */
export function look_at(minute: number): void {
  strip_minute.value = minute;
}

/** Shows a what-if beside the strip, or puts it away. */
export function toggle(name: WhatIf): void {
  const shown = what_ifs_shown.value;
  what_ifs_shown.value = shown.includes(name)
    ? shown.filter((other) => other !== name)
    : WHAT_IF_ORDER.filter((other) => other === name || shown.includes(other));
}
