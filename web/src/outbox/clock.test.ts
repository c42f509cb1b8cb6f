import { expect, test } from "vitest";
import { CLOCK_START, read_stamp, seen, stamp_text, tick } from "./clock";

const DEVICE = "01890a5d-ac96-774b-bcce-b302099a8057";
const NOON = Date.UTC(2026, 10, 25, 12);

test.each([
  ["the wall has moved on", { at_ms: NOON, counter: 7 }, NOON + 1, { at_ms: NOON + 1, counter: 0 }],
  ["the wall stutters", { at_ms: NOON, counter: 7 }, NOON, { at_ms: NOON, counter: 8 }],
  ["the wall was set back", { at_ms: NOON, counter: 0 }, 0, { at_ms: NOON, counter: 1 }],
  ["the counter is full", { at_ms: NOON, counter: 0xffff }, 5, { at_ms: NOON + 1, counter: 0 }],
  ["the wall is before 1970", CLOCK_START, -5, { at_ms: 0, counter: 1 }],
])("a tick when %s", (_when, last, wall_ms, next) => {
  expect(tick(last, wall_ms)).toEqual(next);
});

test("a stamp from elsewhere moves the clock forward and never back", () => {
  const ours = { at_ms: NOON, counter: 3 };
  const stamp = (at_ms: number, counter: number) => stamp_text({ at_ms, counter }, DEVICE);
  expect(seen(ours, stamp(NOON + 60_000, 0))).toEqual({ at_ms: NOON + 60_000, counter: 0 });
  expect(seen(ours, stamp(NOON, 4))).toEqual({ at_ms: NOON, counter: 4 });
  expect(seen(ours, stamp(NOON, 2))).toBe(ours);
  expect(seen(ours, stamp(NOON - 1, 900))).toBe(ours);
});

test("stamps sort as text in the order they were ticked, whatever the wall does", () => {
  let clock = CLOCK_START;
  const stamps = [];
  let wall = NOON;
  for (let i = 0; i < 70_000; i += 1) {
    // Three days back after a thousand writes, and standing still from then on.
    if (i === 1000) wall -= 3 * 86_400_000;
    if (i < 1000) wall += i % 3;
    clock = tick(clock, wall);
    stamps.push(stamp_text(clock, DEVICE));
  }
  expect(new Set(stamps).size).toBe(stamps.length);
  expect([...stamps].sort()).toEqual(stamps);
  expect(new Set(stamps.map(({ length }) => length)).size).toBe(1);
});

test("a stamp reads back as what was stamped, and what is none is said to be none", () => {
  const text = stamp_text({ at_ms: NOON, counter: 0xbeef }, DEVICE);
  expect(text).toBe(`2026-11-25T12:00:00.000Z-beef-${DEVICE}`);
  expect(read_stamp(text)).toEqual({ at_ms: NOON, counter: 0xbeef, device_id: DEVICE });
  expect(() => read_stamp("yesterday")).toThrow('this is "yesterday"');
  // A year of five digits would sort before all others, so the clock stops short of it.
  expect(stamp_text(tick(CLOCK_START, 1e15), DEVICE)).toMatch(/^9999-12-31T23:59:59\.999Z/);
});
