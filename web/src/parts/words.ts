// Numbers and colours in words.
import type { Colour } from "../api/shapes";
import { time_of_day } from "../device/when";

/** Returns the words with a capital in front. */
export function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

/** Returns a level in words: 8, 8½. */
export function level_words(level: number): string {
  const halves = Math.round(level * 2);
  const whole = Math.floor(halves / 2);
  return halves % 2 ? `${whole}½` : `${whole}`;
}

/** Returns a share as tenths of heads: "8 in 10"; never zero or ten while it is neither. */
export function chance_words(chance: number): string {
  if (chance < 0.05) return "fewer than 1 in 10";
  if (chance > 0.95) return "more than 9 in 10";
  return `${Math.round(chance * 10)} in 10`;
}

/** Returns a colour in words, and says so if the screen shows it paler. */
export function colour_words({ words, paled_on_screen }: Colour): string {
  return paled_on_screen ? `${words} (stronger than this screen shows)` : words;
}

/** Returns "1 minute", "7 minutes". */
export function minutes_words(minutes: number): string {
  return minutes === 1 ? "1 minute" : `${minutes} minutes`;
}

export { time_of_day };

/**
 * Returns a time of day as seen from another time: "00:20 tomorrow". If the clocks change in
 * between: "01:10 after the clocks go back".
 */
export function time_from(at_ms: number, now_ms: number): string {
  const [at, now] = [new Date(at_ms), new Date(now_ms)];
  const days = Math.round((midnight_ms(at) - midnight_ms(now)) / 86_400_000);
  const day = days === 1 ? " tomorrow" : days === -1 ? " yesterday" : "";
  // Minutes behind UTC: more of them once the clocks have gone back.
  const back_min = at.getTimezoneOffset() - now.getTimezoneOffset();
  const changed = at_ms > now_ms && back_min !== 0;
  const change = changed ? ` after the clocks go ${back_min > 0 ? "back" : "forward"}` : "";
  return `${time_of_day(at_ms)}${day}${change}`;
}

function midnight_ms(of: Date): number {
  return Date.UTC(of.getFullYear(), of.getMonth(), of.getDate());
}
