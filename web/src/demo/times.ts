// Makes the demo day's offsets into moments, so that its clocks and tests follow the day on which
// somebody opens it.
//   @now-12          12 minutes before it is opened
//   @quarter+60      60 minutes after that, on the quarter of an hour before, at 23:45 that day
//                    at the latest: what is to come is on the day that is shown
//   @day-42 10:30    10:30 on this phone's wall clock, 42 days before that day
import { day_of, days_on, instant_on, MINUTE_MS, rfc3339 } from "../device/when";

const FROM_NOW = /^@(now|quarter)([+-]\d+)$/;
const ON_A_DAY = /^@day([+-]\d+) (\d\d):(\d\d)$/;
const QUARTER_MS = 15 * MINUTE_MS;
const LAST_QUARTER_MIN = 23 * 60 + 45;

/** Returns the instant of an offset, in ms since 1970. Throws a RangeError where it is none. */
export function instant_of(offset: string, opened_ms: number): number {
  const [, from, minutes] = FROM_NOW.exec(offset) ?? [];
  if (from) {
    const at_ms = opened_ms + Number(minutes) * MINUTE_MS;
    // Every time zone is a whole number of quarters from UTC.
    if (from === "now") return at_ms - (at_ms % 1000);
    return Math.min(at_ms - (at_ms % QUARTER_MS), instant_on(day_of(opened_ms), LAST_QUARTER_MIN));
  }
  const [, days, hour, minute] = ON_A_DAY.exec(offset) ?? [];
  if (!days) throw new RangeError(`"${offset}" is no time of the demo day.`);
  const day = days_on(day_of(opened_ms), Number(days));
  return instant_on(day, Number(hour) * 60 + Number(minute));
}

/** Returns a value with every offset in it made into a moment, as records write it. */
export function with_moments<Value>(value: Value, opened_ms: number): Value {
  if (typeof value === "string") {
    const text: string = value;
    return (text.startsWith("@") ? rfc3339(instant_of(text, opened_ms)) : text) as Value;
  }
  if (Array.isArray(value)) return value.map((item) => with_moments(item, opened_ms)) as Value;
  if (typeof value !== "object" || value === null) return value;
  const fields = Object.entries(value).map(([key, v]) => [key, with_moments(v, opened_ms)]);
  return Object.fromEntries(fields) as Value;
}
