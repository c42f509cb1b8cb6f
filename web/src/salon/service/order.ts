// What a zone on the head asks for, and when. The order, the countdown and the alarm read the same
// steps, so none of them can say another minute than the others.
import type { Window } from "../../api/shapes";
import { MINUTE_MS } from "../../device/when";

/** A zone on the head, as its record tells it. */
export interface OnHead {
  /** When the minutes of the strip began, and when the maker's time ends; wall clock. */
  began_ms: number;
  most_ms: number;
  /** Inside the maker's time. */
  window: Window;
  /** The minute another look is worth taking at. */
  look_again_min?: number;
  /** Under a lightener: the minutes to look at, from the last look on. */
  checks_min?: readonly number[];
}

export interface Step {
  is: "look" | "look_again" | "from" | "best" | "by" | "over";
  words: string;
  at_ms: number;
  /** Whether this is the last thing that comes: after it the zone is only late. */
  last: boolean;
}

/** Returns a window cut off where the maker's time ends, in minutes from `began_ms` on. */
export function within_makers_time(window: Window, began_ms: number, most_ms: number): Window {
  if ("reason" in window) return window;
  const ends_min = Math.max(0, Math.floor((most_ms - began_ms) / MINUTE_MS));
  const { earliest, best, latest } = window;
  const cut = (minute: number) => Math.min(minute, ends_min);
  return { earliest: cut(earliest), best: cut(best), latest: cut(latest) };
}

/** Returns what comes for a zone, in the order of time. */
export function steps_of({
  began_ms,
  most_ms,
  window,
  look_again_min,
  checks_min,
}: OnHead): Step[] {
  const step = (is: Step["is"], words: string, minute: number, last = false): Step => ({
    ...{ is, words, last },
    at_ms: Math.min(began_ms + minute * MINUTE_MS, most_ms),
  });
  const over: Step = { is: "over", words: "rinse by", at_ms: most_ms, last: true };
  if (checks_min) {
    return [...checks_min.map((minute) => step("look", `look at ${minute}`, minute)), over];
  }
  if ("reason" in window) return [{ ...over, words: "dry a strand, then rinse by" }];
  const { earliest, best, latest } = window;
  const again = look_again_min === undefined || look_again_min >= best ? [] : [look_again_min];
  // Until a second look has told, nothing is gained by an earlier minute.
  const from = again.some((minute) => minute > earliest) ? [] : [earliest];
  return [
    ...again.map((minute) => step("look_again", `look again at ${minute}`, minute)),
    ...from.map((minute) => step("from", `rinse from ${minute}`, minute)),
    step("best", `best at ${best}`, best),
    step("by", `rinse by ${latest}`, latest, true),
  ].sort((a, b) => a.at_ms - b.at_ms);
}

/** Returns the step that comes next at a time; the last one where all have come. */
export function due_next(zone: OnHead, at_ms: number): Step {
  const steps = steps_of(zone);
  return steps.find((step) => step.at_ms > at_ms) ?? (steps.at(-1) as Step);
}

export interface Order {
  /** The order itself: "Wait", "Look again", "Rinse now". */
  verb: string;
  /** The figure that goes with it, and its unit. */
  figure?: string;
  unit?: string;
  why: string;
}

/** How a page says a time of day. */
export type Wall = (at_ms: number) => string;

/**
 * Returns the one order of a toned zone at a time. `saturate` says that the last look was patchy:
 * product is worked in until the zone is looked at again.
 */
export function order_at(zone: OnHead, at_ms: number, wall: Wall, saturate = false): Order {
  const { window, most_ms } = zone;
  if (at_ms >= most_ms) {
    return { verb: "Rinse now", why: "The maker’s time is over. Longer is not for this product." };
  }
  if ("reason" in window) return { verb: "Dry a strand", why: window.reason };
  const steps = steps_of(zone);
  const when = (is: Step["is"]) => steps.find((step) => step.is === is)?.at_ms;
  const [again, best, by] = [when("look_again"), when("best"), when("by")];
  const next = steps.find((step) => step.at_ms > at_ms);
  const left_min = (to_ms: number) => String(Math.ceil((to_ms - at_ms) / MINUTE_MS));
  const then = window_words(zone, wall);
  if (!next || (best !== undefined && at_ms >= best)) {
    const late = by !== undefined && at_ms >= by + MINUTE_MS;
    return {
      verb: "Rinse now",
      why: late
        ? `Past ${wall(by)} it moves away from the wish.`
        : by !== undefined && by > at_ms
          ? `It stays good until ${wall(by)}.`
          : "This is the last minute for it.",
    };
  }
  if (again !== undefined && at_ms >= again) return { verb: "Look again", why: then };
  const wait = { verb: "Wait", figure: left_min(next.at_ms), unit: "min" };
  if (again !== undefined && saturate) {
    return { verb: "Saturate again", why: `Patchy is uneven product. Look at ${wall(again)}.` };
  }
  if (next.is === "look_again") {
    return { ...wait, why: `Look again ${wall(next.at_ms)}. ${window_words(zone, wall, false)}` };
  }
  if (next.is === "from") return { ...wait, why: then };
  return {
    verb: "Look again",
    why: `You can rinse from here. It is best at ${wall(next.at_ms)}.`,
  };
}

/** Returns the window as times of day: "Rinse 11:14 to 11:27, best 11:19." */
export function window_words(
  { began_ms, window, most_ms }: OnHead,
  wall: Wall,
  with_best = true,
): string {
  if ("reason" in window) return window.reason;
  const at = (minute: number) => wall(Math.min(began_ms + minute * MINUTE_MS, most_ms));
  const best = with_best ? `, best ${at(window.best)}` : "";
  return `Rinse ${at(window.earliest)} to ${at(window.latest)}${best}.`;
}

/** Returns when a toned zone may be rinsed without being too early; undefined while no time is. */
export function rinse_from_ms({ began_ms, window, most_ms }: OnHead): number | undefined {
  if ("reason" in window) return undefined;
  return Math.min(began_ms + window.earliest * MINUTE_MS, most_ms);
}
