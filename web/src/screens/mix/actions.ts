// Changes to the mix, and its words.
import { computed } from "@preact/signals";
import type { Formula } from "../../api/shapes";
import { chosen_formula, mix_key } from "../../bench/chosen";
import { amounts, chosen_mix } from "../../bench/entries";
import { no_mix } from "../../bench/no_mix";
import { mix_words } from "../../shelf/shelf";

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
  if (formula) return mix_words(formula.mix);
  return no_mix.value?.main ?? "nothing chosen yet";
});
