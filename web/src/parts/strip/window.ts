// The window over the strip in words, and how a screen reader says one minute.
import type { StripMinute, Window } from "../../api/shapes";

/** What is planned, in the biggest words: a verb, its figure, and what else to know. */
export interface Plan {
  verb: string;
  figure?: string;
  why: string;
}

/** Returns when to rinse, as a plan: an order comes once a clock runs. */
export function plan_of(window: Window): Plan {
  if ("reason" in window) return { verb: "No window", why: window.reason };
  const { earliest, best, latest } = window;
  const why = earliest === latest ? "No other minute lands." : `${earliest} to ${latest} is good.`;
  return { verb: "Rinse at", figure: String(best), why };
}

/** Returns where a minute lies in the window; "" where there is none. */
export function stage_at(minute: number, window: Window): string {
  if ("reason" in window) return "";
  const { earliest, best, latest } = window;
  if (minute < earliest) return "too early";
  if (minute === best) return "best";
  return minute <= latest ? "good" : "too late";
}

/** Returns the window in words: "rinse from 13, best 16, by 20", or why there is none. */
export function window_words(window: Window): string {
  if ("reason" in window) return window.reason;
  return `rinse from ${window.earliest}, best ${window.best}, by ${window.latest}`;
}

/** Returns one minute of one strip as a sentence, for a screen reader. */
export function minute_sentence(at: StripMinute, window: Window): string {
  const stage = stage_at(at.minute, window);
  return (
    `Minute ${at.minute}${stage && `, ${stage}`}. On the head ${at.on_head.words}; ` +
    `wiped ${at.wiped.words}; dry if rinsed now ${at.if_rinsed.words}.`
  );
}
