// Whether the answer holds a mix at all, and what to do first where it holds none.
import { computed } from "@preact/signals";
import type { FormulationReply, Shortfall } from "../api/shapes";
import { formulas } from "../engine/questions";

/** What comes first, in a few words, and why. */
export interface Lead {
  main: string;
  why: string;
  /** Whether the hair is to be entered again once that is done. */
  changes_hair: boolean;
}

/** Returns what comes before any mix: "Lift first, to level 9½". */
export function first_words({ first, lift_first }: Shortfall): string {
  if (first === "wash") return "Wash first";
  if (first === "remove") return "Take the colour off first";
  if (first === "nothing") return "Your shelf cannot do this";
  if (lift_first === undefined) return "Lift first";
  const halves = Math.round(lift_first * 2);
  return `Lift first, to level ${Math.floor(halves / 2)}${halves % 2 ? "½" : ""}`;
}

/** Returns what leads in place of the mixes; null where there are any. */
export function lead_of({
  formulas: found,
  already,
  shortfall,
  closest_delta_e,
}: FormulationReply): Lead | null {
  if (found.length > 0) return null;
  if (already) {
    return { main: "It is there already", why: already.words, changes_hair: false };
  }
  if (shortfall) {
    const { first, words } = shortfall;
    return { main: first_words(shortfall), why: words, changes_hair: first !== "nothing" };
  }
  // Some mix is close enough on the hair as described, but hair is not known that well.
  const closest =
    closest_delta_e === undefined
      ? ""
      : `The closest mix is ${closest_delta_e.toFixed(1)} ΔE off. `;
  return {
    main: "No mix is likely to land",
    why: `${closest}Fewer than 1 in 10 heads like this would land with it. Ask for a looser match in the wish, or measure the hair.`,
    changes_hair: false,
  };
}

/** What leads in place of the mixes, where the answer to the entries holds none; else null. */
export const no_mix = computed(() => {
  const asked = formulas.asked.value;
  return asked.state === "answered" ? lead_of(asked.answer.reply) : null;
});
