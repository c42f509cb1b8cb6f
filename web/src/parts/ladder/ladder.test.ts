import { expect, test } from "vitest";
import { done_after, next_words, rungs_of } from "./rungs";

const RECIPE = {
  recipe: [
    ["Still 9 violet blue", "24 g", "24 g", 24],
    ["6 % developer (20 vol)", "11.4 g", "35.4 g", 35.4],
  ].map(([name, words, reading_words, reading_g]) => ({
    pour: "colour" as const,
    name: String(name),
    words: String(words),
    reading_words: String(reading_words),
    reading_g: Number(reading_g),
    grams: 1,
    wanted_g: 1,
  })),
};

test("the ladder begins with the tare and shows what the scale shows", () => {
  const rungs = rungs_of(RECIPE);
  expect(rungs.map(({ figure, unit }) => `${figure} ${unit}`)).toEqual(["0 g", "24 g", "35.4 g"]);
  expect(rungs.map(({ name }) => name)[0]).toBe("Tare");
  expect(rungs[2]?.amount).toBe("11.4 g");
});

test.each([
  [0, 0, 1],
  [2, 0, 3],
  [2, 3, 2],
  [0, 3, 1],
])("tapping rung %i with %i done leaves %i done", (tapped, done, after) => {
  expect(done_after(tapped, done)).toBe(after);
});

test("the button says what is ticked next, and at the end that all is in", () => {
  const rungs = rungs_of(RECIPE);
  expect([0, 1, 2, 3].map((done) => next_words(rungs, done))).toEqual([
    "Tared: the scale shows 0",
    "Poured to 24 g",
    "Poured to 35.4 g",
    "All is in: 35.4 g",
  ]);
});
