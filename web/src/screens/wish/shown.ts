// The wish as entered: its colour and its words.
import { computed } from "@preact/signals";
import { wish_entry } from "../../bench/entries";
import { lab_of } from "../../bench/requests";
import { formulas } from "../../engine/questions";
import { level_words } from "../../parts/words";
import { wish_hex } from "../../references";

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
