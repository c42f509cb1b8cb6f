// Changes to the hair's description.
import { computed } from "@preact/signals";
import { hair_entry, wish_entry } from "../../bench/entries";
import type { HairEntry, OtherHairEntry } from "../../records/entered";

export const WARMTH_WORDS: readonly string[] = [
  "much less warm",
  "less warm",
  "usual warmth",
  "warmer",
  "much warmer",
];

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
