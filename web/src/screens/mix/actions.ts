// Changes to what is asked of a mix, and the mix in words.
import { computed } from "@preact/signals";
import { chosen_formula } from "../../bench/chosen";
import { amounts } from "../../bench/entries";
import { no_mix } from "../../bench/no_mix";
import { mix_words } from "../../shelf/shelf";

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
