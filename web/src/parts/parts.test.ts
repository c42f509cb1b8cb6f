import { expect, test } from "vitest";
import { bare_look, LEVELS, TONES, WARMTHS, wish_hex } from "../references";
import { countdown } from "./clock";
import { typed } from "./number";
import { chance_words, level_words, minutes_words } from "./words";

test.each([
  ["", "7", "7"],
  ["7", ".", "7."],
  ["7.", ".", "7."],
  ["7.5", "±", "-7.5"],
  ["-7.5", "±", "7.5"],
  ["7.5", "⌫", "7."],
  ["", "⌫", ""],
  ["1234567", "8", "1234567"],
] as const)("%j and the key %s make %j", (before, key, after) => {
  expect(typed(before, key)).toBe(after);
});

test.each([
  [10, "10"],
  [10.5, "10½"],
  [8.74, "8½"],
])("level %f is said %s", (level, words) => {
  expect(level_words(level)).toBe(words);
});

test("a chance is said in tenths, and never as none or all", () => {
  expect(chance_words(0.72)).toBe("7 in 10");
  expect(chance_words(0.01)).toBe("fewer than 1 in 10");
  expect(chance_words(0.99)).toBe("more than 9 in 10");
  expect(minutes_words(1)).toBe("1 minute");
});

test("a reference is drawn for every level, warmth and tone there is a tap for", () => {
  const hex = /^#[0-9a-f]{6}$/;
  for (const level of LEVELS) {
    for (const warmth of WARMTHS) {
      for (const lifted of [true, false]) {
        const look = bare_look(level, warmth, lifted);
        expect(look?.dry).toMatch(hex);
        expect(look?.wet).toMatch(hex);
        expect(look?.words).toContain("level");
      }
    }
    for (const tone of TONES) expect(wish_hex(level, tone)).toMatch(hex);
  }
});

/** Relative luminance of a screen colour, 0–1 (IEC 61966-2-1). */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

// Wet hair is darker than dry: Lekner & Dorf, Appl. Opt. 27 (1988) 1278. Near black the water's
// own shine outweighs it, so the check starts where hair is lighter than that.
test("wet references are darker than dry ones, and lighter levels lighter", () => {
  for (const level of LEVELS.filter((at) => at >= 4)) {
    const look = bare_look(level, 1, true);
    const below = bare_look(level - 0.5, 1, true);
    expect(luminance(look?.wet ?? "")).toBeLessThan(luminance(look?.dry ?? ""));
    expect(luminance(look?.dry ?? "")).toBeGreaterThan(luminance(below?.dry ?? ""));
  }
});

test.each([
  [372_000, "6:12"],
  [371_001, "6:12"],
  [0, "0:00"],
  [-61_000, "+1:01"],
  [3_900_000, "1:05:00"],
])("%i ms are counted down as %s", (left_ms, words) => {
  expect(countdown(left_ms)).toBe(words);
});
