// Times on records: RFC 3339 with this phone's offset, so that the wall clock of then stays
// readable.

export const MINUTE_MS = 60_000;

const two = (value: number) => String(value).padStart(2, "0");

/** Returns an instant as RFC 3339 with this phone's offset at that instant, to the second. */
export function rfc3339(at_ms: number): string {
  const at = new Date(at_ms);
  const east_min = -at.getTimezoneOffset();
  const day = [at.getFullYear(), two(at.getMonth() + 1), two(at.getDate())].join("-");
  const time = [at.getHours(), at.getMinutes(), at.getSeconds()].map(two).join(":");
  const sign = east_min < 0 ? "-" : "+";
  const offset = `${two(Math.floor(Math.abs(east_min) / 60))}:${two(Math.abs(east_min) % 60)}`;
  return `${day}T${time}${sign}${offset}`;
}

/** Returns now as records write it. */
export function at_now(): string {
  return rfc3339(Date.now());
}

/** Returns the day of an instant by this phone's wall clock: "2026-11-28". */
export function day_of(at_ms: number): string {
  return rfc3339(at_ms).slice(0, 10);
}

/** Returns the instant of a day's minute since midnight by this phone's wall clock. */
export function instant_on(day: string, minute: number): number {
  const [year = 0, month = 1, date = 1] = day.split("-").map(Number);
  return new Date(year, month - 1, date, 0, minute).getTime();
}

const NOON_MIN = 12 * 60;

/** Returns the day so many days after another; below 0 before it. */
export function days_on(day: string, days: number): string {
  const at = new Date(instant_on(day, NOON_MIN));
  at.setDate(at.getDate() + days);
  return day_of(at.getTime());
}

/** Whether a text is a day that there is: "2026-02-29" is none. */
export function is_day(text: string): boolean {
  return /^\d{4}-\d{2}-\d{2}$/.test(text) && days_on(text, 0) === text;
}

/** Returns the minute since midnight that an instant shows on this phone's wall clock. */
export function minute_on_wall(at_ms: number): number {
  const at = new Date(at_ms);
  return at.getHours() * 60 + at.getMinutes();
}

/** Returns a day in words; with its year where it is past, or of another year than today. */
export function day_in_words(day: string, today: string): string {
  const noon = rfc3339(instant_on(day, NOON_MIN));
  const near = day >= today && day.slice(0, 4) === today.slice(0, 4);
  return near ? day_words(noon) : date_words(noon);
}

/** Returns the day of a time in words, with its year: "Sat 28 Nov 2026". For what is history. */
export function date_words(time: string): string {
  return new Date(time).toLocaleDateString([], {
    weekday: "short",
    day: "numeric",
    month: "short",
    year: "numeric",
  });
}

/** Returns the day of a time in words: "Sat 28 Nov". */
export function day_words(time: string): string {
  return new Date(time).toLocaleDateString([], {
    weekday: "short",
    day: "numeric",
    month: "short",
  });
}

/** Returns a time of day as this phone's language writes it: "14:31", "2:31 PM". */
export function time_of_day(at_ms: number): string {
  return new Date(at_ms).toLocaleTimeString([], { timeStyle: "short" });
}
