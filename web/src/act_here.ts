// The way to undo an act stays on the screen of the act: a wet thumb on another screen would take
// back what is no longer in sight. The list of the day still has it.
import { effect } from "@preact/signals";
import { place, was_led_here } from "./place";
import { last_act, let_act_be } from "./records/write";

const TOUCHES = ["pointerdown", "keydown", "click"];

/**
 * Lets the last act be as a person goes to another screen.
 *
 * An act that leads on, as planning a visit leads to it, takes its way back along.
 */
export function watch_acts_here(): void {
  let touched = false;
  let act = last_act.peek();
  let screen = screen_here();
  for (const touch of TOUCHES) {
    addEventListener(touch, () => (touched = true), { capture: true, passive: true });
  }
  effect(() => {
    if (last_act.value !== act) touched = false;
    act = last_act.value;
  });
  effect(() => {
    const now = screen_here();
    if (now === screen) return;
    screen = now;
    if (touched || !was_led_here()) let_act_be();
  });
}

/** The days are one screen. */
function screen_here(): string {
  const { name, id } = place.value;
  return name === "today" ? name : `${name}/${id}`;
}
