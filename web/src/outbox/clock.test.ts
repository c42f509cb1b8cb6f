import { expect, test } from "vitest";
import vectors from "../../../tests/vectors/clock.json";
import { CLOCK_START, type Clock, read_stamp, seen, stamp_text, tick } from "./clock";

const NOON_MS = Date.UTC(2026, 10, 25, 12);

function clock_of([at_ms, counter]: number[]): Clock {
  return { at_ms: at_ms as number, counter: counter as number };
}

test.each(vectors.ticks)("a tick when $name", ({ last, wall_ms, next }) => {
  expect(tick(clock_of(last), wall_ms)).toEqual(clock_of(next));
});

test.each(vectors.seen)("$name", ({ last, stamp, next }) => {
  expect(seen(clock_of(last), stamp)).toEqual(clock_of(next));
});

test("stamps are written and read back", () => {
  const { device_id } = vectors;
  for (const { clock, text } of vectors.stamps) {
    expect(stamp_text(clock_of(clock), device_id)).toBe(text);
    expect(read_stamp(text)).toEqual({ ...clock_of(clock), device_id });
  }
});

test.each(vectors.none)("%j is said to be no stamp", (text) => {
  expect(() => read_stamp(text)).toThrow("A stamp is a time, a counter and a device");
});

test("stamps sort as text in the order they were ticked, whatever the wall does", () => {
  let clock = CLOCK_START;
  const stamps = [];
  let wall = NOON_MS;
  for (let i = 0; i < 70_000; i += 1) {
    // Three days back after a thousand writes, and standing still from then on.
    if (i === 1000) wall -= 3 * 86_400_000;
    if (i < 1000) wall += i % 3;
    clock = tick(clock, wall);
    stamps.push(stamp_text(clock, vectors.device_id));
  }
  expect(new Set(stamps).size).toBe(stamps.length);
  expect([...stamps].sort()).toEqual(stamps);
  expect(new Set(stamps.map(({ length }) => length)).size).toBe(1);
});
