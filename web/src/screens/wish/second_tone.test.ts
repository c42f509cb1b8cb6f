import { expect, test } from "vitest";
import { TONES } from "../../references";
import { contradiction, LEANS, TAKES_AWAY } from "./second_tone";

test("every tone that can be wished for leans some way", () => {
  expect(Object.keys(LEANS).sort()).toEqual([...TONES].sort());
});

test("no lean is a contradiction, and all words can be wished for", () => {
  for (const [first, leans] of Object.entries(LEANS)) {
    for (const [, second] of leans) {
      expect(TONES).toContain(second);
      expect(second).not.toBe(first);
      expect(contradiction(first, second)).toBe("");
    }
  }
  expect(TONES).toEqual(expect.arrayContaining(Object.values(TAKES_AWAY).flat()));
});

test("what contradicts is refused either way round, and says which takes which away", () => {
  const words = "Ash takes gold away.";
  expect(contradiction("ash", "gold")).toBe(words);
  expect(contradiction("gold", "ash")).toBe(words);
  expect(contradiction("beige", "gold")).toBe("");
  expect(contradiction("ash", "ash")).toBe("");
});
