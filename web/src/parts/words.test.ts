import { afterEach, expect, test } from "vitest";
import { time_from, time_of_day } from "./words";

const here = process.env.TZ;
afterEach(() => {
  if (here === undefined) delete process.env.TZ;
  else process.env.TZ = here;
});

// When the clocks change: Directive 2000/84/EC, the last Sundays of March and October at 01:00 UTC.
test.each([
  ["Europe/Berlin", "2026-11-25T22:50:00Z", 90, " tomorrow"],
  ["Europe/Berlin", "2026-11-25T10:00:00Z", 90, ""],
  ["Europe/Berlin", "2026-10-25T00:30:00Z", 60, " after the clocks go back"],
  ["Europe/Berlin", "2026-03-29T00:30:00Z", 60, " after the clocks go forward"],
  ["Europe/Lisbon", "2026-10-24T22:30:00Z", 210, " tomorrow after the clocks go back"],
])("in %s at %s, %i minutes on is said with:%s", (zone, now, minutes, said) => {
  process.env.TZ = zone;
  const now_ms = Date.parse(now);
  const at_ms = now_ms + minutes * 60_000;
  expect(time_from(at_ms, now_ms)).toBe(`${time_of_day(at_ms)}${said}`);
});
