// When a tap on a leading act counts: by the events' own times, and never against a key.
import { beforeEach, expect, test, vi } from "vitest";

let is_meant: typeof import("./taps").is_meant;

beforeEach(async () => {
  vi.resetModules();
  ({ is_meant } = await import("./taps"));
});

const tap = (timeStamp: number) => is_meant({ detail: 1, timeStamp });

test.each([
  [350, false],
  [599, false],
  [600, true],
])("a tap %i ms after the one before counts: %s", (later_ms, counts) => {
  expect(tap(1000)).toBe(true);
  expect(tap(1000 + later_ms)).toBe(counts);
});

test("a tap that did not count does not make the next one wait longer", () => {
  expect([tap(0), tap(400), tap(650)]).toEqual([true, false, true]);
});

test("a key and a screen reader are never kept waiting", () => {
  expect(tap(1000)).toBe(true);
  expect(is_meant({ detail: 0, timeStamp: 1001 })).toBe(true);
});
