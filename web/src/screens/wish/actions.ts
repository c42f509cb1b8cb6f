// Changes to the wish.
import { signal } from "@preact/signals";
import { wish_entry } from "../../bench/entries";
import type { WishEntry } from "../../records/entered";
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
