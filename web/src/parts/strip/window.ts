// What each minute of the strip asks you to do, and how a screen reader says the minute.
import type { StripMinute, Window } from "../../api/shapes";
import { minutes_words } from "../words";

export interface Order {
  /** The order itself: "Wait", "Look again", "Rinse now". */
  verb: string;
  /** The order's figure, and its unit. */
  figure?: string;
  unit?: string;
  why: string;
}

/** Returns what to do at a minute: wait, look again, or rinse. */
export function order_at(minute: number, window: Window): Order {
  if ("reason" in window) return { verb: "Dry a strand", why: window.reason };
  const { earliest, best, latest } = window;
  if (minute < earliest) {
    return {
      verb: "Wait",
      figure: String(earliest - minute),
      unit: "min",
      why: "Too early: most of the colour is still to come.",
    };
  }
  if (minute < best) {
    return { verb: "Look again", why: `You can rinse from here. Best at ${best}.` };
  }
  if (minute <= latest) {
    const left = latest - minute;
    return {
      verb: "Rinse now",
      why: left === 0 ? "This is the last good minute." : `Be done by ${latest}.`,
    };
  }
  return { verb: "Rinse now", why: `Past ${latest} It moves away from the wish.` };
}

/** Returns the window in words: "rinse from 13, best 16, by 20", or why there is none. */
export function window_words(window: Window): string {
  if ("reason" in window) return window.reason;
  return `rinse from ${window.earliest}, best ${window.best}, by ${window.latest}`;
}

/** Returns one minute of one strip as a sentence, for a screen reader. */
export function minute_sentence(at: StripMinute, window: Window): string {
  const { verb, figure } = order_at(at.minute, window);
  const order = figure ? `Wait ${minutes_words(Number(figure))}` : verb;
  return (
    `Minute ${at.minute}. ${order}. On the head ${at.on_head.words}; ` +
    `wiped ${at.wiped.words}; dry if rinsed now ${at.if_rinsed.words}.`
  );
}
