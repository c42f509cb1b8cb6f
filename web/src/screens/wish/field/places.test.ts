import { expect, test } from "vitest";
import type { Reach } from "../../../api/shapes";
import { LEVELS, TONES, wish_hex } from "../../../references";
import { contradiction } from "../second_tone";
import { labels_of, why_not_at } from "./hatching";
import {
  FIELDS,
  field_of,
  hair_across,
  moved,
  rows_around,
  spot_at,
  stop_of,
  stops_of,
  tones_at,
} from "./places";

const { even } = FIELDS;

test("every stop is a wish that can be made, and lies where it was made", () => {
  for (const tones of Object.values(FIELDS)) {
    for (let stop = 0; stop < stops_of(tones); stop += 1) {
      const words = tones_at(tones, stop);
      expect(TONES).toEqual(expect.arrayContaining(words));
      expect(contradiction(words[0] ?? "", words[1] ?? "")).toBe("");
      expect(stop_of(tones, words)).toBe(stop);
      expect(stop_of(tones, words.toReversed())).toBe(stop);
    }
  }
});

test("between two tones both are wished for, and a word of no field lies on none", () => {
  expect(tones_at(even, 3)).toEqual(["beige", "pearl"]);
  expect(stop_of(even, ["beige", "ash"])).toBe(4);
  expect(stop_of(even, ["rose"])).toBeUndefined();
  expect(field_of(["rose"])).toBe("rosier");
  expect(field_of(["ash"])).toBe("ashier");
  expect(field_of([])).toBe("even");
});

test("the levels go by halves, the lightest first, with the wish among them", () => {
  expect(rows_around(10, 10)).toEqual([10.5, 10, 9.5, 9, 8.5, 8, 7.5]);
  expect(rows_around(5, 5)).toEqual([6, 5.5, 5, 4.5, 4, 3.5, 3]);
  for (const hair of [undefined, ...LEVELS]) {
    for (const wish of LEVELS) {
      const rows = rows_around(hair, wish);
      expect(rows).toHaveLength(7);
      expect(rows).toContain(wish);
    }
  }
});

test("a point of the field is the level and the stop it lies on, also past the edge", () => {
  const rows = rows_around(10, 10);
  expect(spot_at(0.5, 0.2, rows, even)).toEqual({ level: 10, stop: 4 });
  expect(spot_at(0.4, 0.2, rows, even)).toEqual({ level: 10, stop: 3 });
  expect(spot_at(-1, 2, rows, even)).toEqual({ level: 7.5, stop: 0 });
  expect(spot_at(2, -1, rows, even)).toEqual({ level: 10.5, stop: 8 });
});

test("steps go half a level or one stop, and none leads past the edge", () => {
  expect(moved({ level: 9, stop: 4 }, { lighter: 1 }, even)).toEqual({ level: 9.5, stop: 4 });
  expect(moved({ level: 9, stop: 4 }, { warmer: -1 }, even)).toEqual({ level: 9, stop: 3 });
  expect(moved({ level: 10.5, stop: 4 }, { lighter: 1 }, even)).toBeUndefined();
  expect(moved({ level: 1, stop: 4 }, { lighter: -1 }, even)).toBeUndefined();
  expect(moved({ level: 9, stop: 8 }, { warmer: 1 }, even)).toBeUndefined();
});

test("hair that looks like a wish lies on that wish", () => {
  even.forEach((tone, at) => {
    const hex = wish_hex(9, tone) ?? "";
    expect(hair_across(hex, 9, even)).toBeCloseTo((at + 0.5) / even.length);
  });
  expect(hair_across("grey", 9, even)).toBeUndefined();
});

/** What lands: pearl to gold at level 9, nothing else. */
function known(level: number, tone: string): Reach {
  if (level === 9 && tone !== "smoke") return { level, tone, delta_e: 1, within: true };
  const why = level > 9 ? "lift_first" : "no_product";
  return { level, tone, delta_e: 9, within: false, why };
}

test("a place between two tones is hatched only where neither of them lands", () => {
  expect(why_not_at(known, { level: 9, stop: 0 }, even)).toBe("no_product");
  expect(why_not_at(known, { level: 9, stop: 1 }, even)).toBeUndefined();
  expect(why_not_at(known, { level: 10, stop: 1 }, even)).toBe("lift_first");
  expect(why_not_at(() => undefined, { level: 10, stop: 1 }, even)).toBeUndefined();
});

test("a reason is written once, in its longest row, and not where it has no room", () => {
  expect(labels_of(known, [10, 9.5, 9, 8.5], even)).toEqual([
    { why: "lift_first", row: 0, from: 0, count: 5 },
    { why: "no_product", row: 3, from: 0, count: 5 },
  ]);
  expect(labels_of(known, [9], even)).toEqual([]);
});
