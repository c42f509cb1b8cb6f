import { effect } from "@preact/signals";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { wish_entry } from "../../../bench/entries";
import { follow, is_moving, REST_MS, ring, settle } from "./follow";
import { FIELDS } from "./places";

const { even } = FIELDS;

/** Counts how often the wish changes, which is how often a mix is asked for. */
function wishes(): { count: number } {
  const seen = { count: -1 };
  effect(() => {
    wish_entry.value;
    seen.count += 1;
  });
  return seen;
}

beforeEach(() => {
  vi.useFakeTimers();
  wish_entry.value = { ...wish_entry.value, level: 10, tone: ["pearl"] };
});
afterEach(() => {
  settle();
  vi.useRealTimers();
});

test("the ring goes with the finger, and the wish follows once it rests", () => {
  const changed = wishes();
  for (const stop of [2, 3, 4, 5]) {
    follow({ level: 9, stop }, even);
    expect(ring.value).toEqual({ level: 9, stop });
    vi.advanceTimersByTime(REST_MS - 1);
  }
  expect(changed.count).toBe(0);
  expect(is_moving.value).toBe(true);
  vi.advanceTimersByTime(1);
  expect(changed.count).toBe(1);
  expect(is_moving.value).toBe(false);
  expect(wish_entry.value).toMatchObject({ level: 9, tone: ["natural", "beige"] });
  expect(ring.value).toEqual({ level: 9, stop: 5 });
});

test("a finger that is lifted lets the wish follow at once, and only once", () => {
  const changed = wishes();
  follow({ level: 8, stop: 0 }, even);
  settle();
  expect(wish_entry.value).toMatchObject({ level: 8, tone: ["smoke"] });
  settle();
  vi.runAllTimers();
  expect(changed.count).toBe(1);
});

test("a wish of another field has no ring here until one slides", () => {
  wish_entry.value = { ...wish_entry.value, tone: ["pink"] };
  expect(ring.value).toBeNull();
  follow({ level: 10, stop: 8 }, even);
  expect(ring.value).toEqual({ level: 10, stop: 8 });
});
