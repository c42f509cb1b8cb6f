// The hair as entered: its colours, and its line for a folded section.
import { computed } from "@preact/signals";
import { hair_is_drawn } from "../../bench/chosen";
import { hair_entry } from "../../bench/entries";
import { bare_hair } from "../../engine/questions";
import { level_words } from "../../parts/words";
import { bare_look } from "../../references";

export const POROSITY_OPTIONS = [
  [0.2, "tight"],
  [0.5, "usual"],
  [0.75, "porous"],
  [0.95, "very porous"],
] as const;

/** The hair as entered, dry and wet, with its words: drawn, or as last worked out. */
export const live_look = computed(() => {
  if (hair_is_drawn.value) {
    const { level, warmth, lifted } = hair_entry.value;
    return bare_look(level, warmth, lifted);
  }
  const asked = bare_hair.asked.value;
  const minute = asked.state === "answered" ? asked.answer.reply.strip[0] : undefined;
  if (!minute) return undefined;
  const { if_rinsed, wiped } = minute;
  return { dry: if_rinsed.hex, wet: wiped.hex, words: if_rinsed.words };
});

/** The hair in one line, for when its section is folded. */
export const hair_line = computed(() => {
  const {
    by_reading,
    level,
    porosity,
    also,
    lifted,
    white_share,
    white_uptake = 1,
  } = hair_entry.value;
  const colour =
    live_look.value?.words ?? (by_reading ? "by a reading" : `level ${level_words(level)}`);
  const open = POROSITY_OPTIONS.find(([value]) => value === porosity)?.[1];
  const others = also.map(({ name }) => `, ${name} apart`).join("");
  const porous = open === "usual" ? "usual porosity" : (open ?? "as porous as it showed");
  const resists = white_uptake < 1 ? " resistant" : "";
  const white = white_share > 0 ? `, ${Math.round(white_share * 100)} %${resists} white` : "";
  return `${colour}${lifted ? "" : ", natural"}${white}, ${porous}${others}`;
});
