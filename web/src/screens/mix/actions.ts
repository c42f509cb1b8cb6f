// Asks what to mix whenever hair, wish, shelf or amount change, and keeps the choice.
import { computed, effect } from "@preact/signals";
import type { Formula } from "../../api/shapes";
import { chosen_formula, hair_entered, mix_key } from "../../bench/chosen";
import { amounts, chosen_mix, wish_entry } from "../../bench/entries";
import { limits_of, wish_of } from "../../bench/requests";
import { formulas } from "../../engine/questions";
import { mix_words, shelf } from "../../shelf/shelf";

/** Asks as entries change, and lets the choice follow the answer. Runs for good. */
export function watch_formulas(): void {
  effect(() => {
    const hair = hair_entered.value;
    const wish = wish_of(wish_entry.value);
    const { products } = shelf.value;
    if (!hair || !wish || products.length === 0) formulas.drop();
    else formulas.put({ hair, wish, products, limits: limits_of(amounts.value) });
  });
  effect(() => {
    const asked = formulas.asked.value;
    const found = asked.state === "answered" ? asked.answer.reply.formulas : [];
    chosen_formula.value =
      found.find(({ mix }) => mix_key(mix) === chosen_mix.value) ?? found[0] ?? null;
  });
}

/** Takes a formula as the one to mix. */
export function choose({ mix }: Formula): void {
  chosen_mix.value = mix_key(mix);
}

/** Changes how much is mixed, or of how many products. */
export function change(fields: Partial<typeof amounts.value>): void {
  amounts.value = { ...amounts.value, ...fields };
}

/** The chosen mix in one line, for when its section is folded. */
export const mix_line = computed(() => {
  const formula = chosen_formula.value;
  return formula ? mix_words(formula.mix) : "nothing chosen yet";
});

/** Returns the places of the first formula of each class: those say when to choose them. */
export function first_of_class(
  found: readonly Formula[],
  class_of: (formula: Formula) => string | undefined,
): Set<number> {
  const seen = new Set<string | undefined>();
  return new Set(
    found.flatMap((formula, place) => {
      const kind = class_of(formula);
      if (seen.has(kind)) return [];
      seen.add(kind);
      return [place];
    }),
  );
}
