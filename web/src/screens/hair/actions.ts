// Changes to the hair's description, and its colours as entered.
import { computed } from "@preact/signals";
import { hair_is_drawn } from "../../bench/chosen";
import { hair_entry, wish_entry } from "../../bench/entries";
import { bare_hair } from "../../engine/questions";
import { level_words } from "../../parts/words";
import type { HairEntry, OtherHairEntry } from "../../records/entered";
import { bare_look } from "../../references";

export const WARMTH_WORDS: readonly string[] = [
  "much less warm",
  "less warm",
  "usual warmth",
  "warmer",
  "much warmer",
];

export const POROSITY_OPTIONS = [
  [0.2, "tight"],
  [0.5, "usual"],
  [0.75, "porous"],
  [0.95, "very porous"],
] as const;

/** Changes some of what was entered about the hair. */
export function change(fields: Partial<HairEntry>): void {
  hair_entry.value = { ...hair_entry.value, ...fields };
  // Until somebody picks a tone, the wish starts from the hair's level.
  if (fields.level !== undefined && wish_entry.value.tone.length === 0) {
    wish_entry.value = { ...wish_entry.value, level: fields.level };
  }
}

/** Changes one of the other hairs, by its place. */
export function change_other(place: number, fields: Partial<OtherHairEntry>): void {
  const also = hair_entry.value.also.map((other, at) =>
    at === place ? { ...other, ...fields } : other,
  );
  change({ also });
}

/** Adds other hair under the same mix, with its usual differences. */
export function add_other(name: "ends" | "between foils"): void {
  const { level, warmth, also } = hair_entry.value;
  const other: OtherHairEntry =
    name === "ends"
      ? { name, share: 0.2, level, warmth, porosity: 0.75, lifted: true }
      : { name, share: 0.3, level: 7, warmth: 1, porosity: 0.2, lifted: false };
  change({ also: [...also, other] });
}

/** Removes one of the other hairs. */
export function remove_other(place: number): void {
  change({ also: hair_entry.value.also.filter((_, at) => at !== place) });
}

/** The share of the head that other hair leaves, 0–1. */
export const share_left = computed(
  () => 1 - hair_entry.value.also.reduce((sum, { share }) => sum + share, 0),
);

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
