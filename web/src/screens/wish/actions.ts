// Changes to the wish, and the shelf's answer at once.
import { computed, signal } from "@preact/signals";
import { wish_entry } from "../../bench/entries";
import { lab_of, wish_of } from "../../bench/requests";
import { formulas } from "../../engine/questions";
import { level_words } from "../../parts/words";
import type { WishEntry } from "../../records/entered";
import { wish_hex } from "../../references";
import { contradiction } from "./second_tone";

/** Changes some of what was entered about the wish. */
export function change(fields: Partial<WishEntry>): void {
  wish_entry.value = { ...wish_entry.value, ...fields };
}

/** Why the last tap on a tone was refused or dropped another; in an object, as one may come twice. */
export const tone_refused = signal<{ words: string } | null>(null);

/** Takes a tone word as the first. A second word stays unless it is the same or contradicts. */
export function choose_tone(word: string): void {
  const second = wish_entry.value.tone[1];
  const against = second ? contradiction(word, second) : "";
  tone_refused.value = against ? { words: `${against} The wish is ${word} alone now.` } : null;
  const keeps = second && second !== word && !against;
  change({ by_reading: false, tone: keeps ? [word, second] : [word] });
}

/** Takes a second tone word, or with "" none. What contradicts the first is refused in words. */
export function choose_second(word: string): void {
  const [first] = wish_entry.value.tone;
  if (!first) return;
  const against = contradiction(first, word);
  tone_refused.value = against ? { words: `${against} Wish for one of them.` } : null;
  if (!against) change({ tone: word && word !== first ? [first, word] : [first] });
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
