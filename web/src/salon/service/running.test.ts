import { expect, test } from "vitest";
import { due_next, minute_of } from "./running";

const MINUTE_MS = 60_000;
const window = { earliest: 7, best: 10, latest: 12 };

test.each([
  [0, "rinse from 7", 7],
  [6.99, "rinse from 7", 7],
  [7, "best at 10", 10],
  [10, "rinse by 12", 12],
  [30, "rinse by 12", 12],
])("at minute %f the zone is told: %s", (minute, words, at) => {
  const due = due_next(0, 20 * MINUTE_MS, window, minute * MINUTE_MS);
  expect(due).toMatchObject({ words, at_ms: at * MINUTE_MS });
});

test("nothing is due after the maker's time, which runs from the first section", () => {
  // The last section came five minutes after the first, and the maker allows fifteen.
  const began_ms = 5 * MINUTE_MS;
  const most_ms = 15 * MINUTE_MS;
  expect(due_next(began_ms, most_ms, window, 14.5 * MINUTE_MS).at_ms).toBe(most_ms);
});

test("without a window the zone is told to dry a strand, by the maker's time", () => {
  const due = due_next(0, 20 * MINUTE_MS, { reason: "the wish is out of reach" }, 0);
  expect(due).toMatchObject({ words: "dry a strand, then rinse by", at_ms: 20 * MINUTE_MS });
});

test("minutes are whole and never below nought", () => {
  expect(minute_of({ began_ms: 0 }, 59_999)).toBe(0);
  expect(minute_of({ began_ms: 0 }, 60_000)).toBe(1);
  expect(minute_of({ began_ms: 5000 }, 0)).toBe(0);
});
