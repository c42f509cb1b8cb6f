// Changes to the wish, and the shelf's answer at once.
import { computed } from "@preact/signals";
import { wish_entry } from "../../bench/entries";
import { lab_of, wish_of } from "../../bench/requests";
import { formulas } from "../../engine/questions";
import { level_words } from "../../parts/words";
import type { WishEntry } from "../../records/entered";
import { wish_hex } from "../../references";

/** Changes some of what was entered about the wish. */
export function change(fields: Partial<WishEntry>): void {
  wish_entry.value = { ...wish_entry.value, ...fields };
}

/** Takes a tone word as the first, keeping a different second word. */
export function choose_tone(word: string): void {
  const second = wish_entry.value.tone[1];
  change({ by_reading: false, tone: second && second !== word ? [word, second] : [word] });
}

/** Takes a second tone word, or drops it when it is tapped again. */
export function choose_second(word: string): void {
  const [first, second] = wish_entry.value.tone;
  if (first) change({ tone: second === word || word === first ? [first] : [first, word] });
}

/** The screen colour of the wish: drawn for one word, else as the engine answered. */
export const wish_look = computed(() => {
  const { by_reading, level, tone } = wish_entry.value;
  if (!by_reading && tone.length === 1 && tone[0]) return wish_hex(level, tone[0]);
  const asked = formulas.asked.value;
  return asked.state === "answered" ? asked.answer.reply.wish.hex : undefined;
});

/** The wish in words: "level 10, pearl beige". */
export const wish_words = computed(() => {
  const { by_reading, level, tone, lab } = wish_entry.value;
  if (!by_reading) return tone.length > 0 ? `level ${level_words(level)}, ${tone.join(" ")}` : "";
  return lab_of(lab) ? `a reading of ${lab.join(", ")}` : "";
});

/** Whether there is a whole wish to ask with. */
export const has_wish = computed(() => wish_of(wish_entry.value) !== null);

/** What to do first while the wish is not whole. */
export const wish_missing = computed(() =>
  wish_entry.value.by_reading ? "Type the reading first" : "Tap a tone first",
);
