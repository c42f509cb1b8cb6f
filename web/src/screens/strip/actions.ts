// The strip as it is shown: its minutes, the one looked at, and the what-ifs beside it.
import { computed } from "@preact/signals";
import { strip_minute, what_ifs_shown } from "../../bench/entries";
import { WHAT_IF_ORDER, type WhatIf } from "../../bench/what_ifs";
import { strip } from "../../engine/questions";

/** The minutes of the strip shown, and the best one to rinse at, where there is one. */
export const minutes_shown = computed(() => {
  const asked = strip.asked.value;
  return asked.state === "answered" ? asked.answer.reply.strip.map(({ minute }) => minute) : [];
});
export const best_minute = computed(() => {
  const asked = strip.asked.value;
  const window = asked.state === "answered" ? asked.answer.reply.window : undefined;
  return window && "best" in window ? window.best : undefined;
});

/** The minute looked at; the last one where the strip has become shorter than that. */
export const minute_shown = computed(() =>
  Math.min(strip_minute.value, minutes_shown.value.at(-1) ?? 0),
);

/** Moves to a minute of the strip. */
export function look_at(minute: number): void {
  strip_minute.value = minute;
}

/** Shows a what-if beside the strip, or puts it away. */
export function toggle(name: WhatIf): void {
  const shown = what_ifs_shown.value;
  what_ifs_shown.value = shown.includes(name)
    ? shown.filter((other) => other !== name)
    : WHAT_IF_ORDER.filter((other) => other === name || shown.includes(other));
}
