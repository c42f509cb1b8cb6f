import { expect, test } from "vitest";
import type { Formula } from "../../api/shapes";
import { set_apart } from "./set_apart";

/** A formula as the engine answers one, as far as it is told apart by it. */
function formula(given: Partial<Formula>, mix: Partial<Formula["mix"]> = {}): Formula {
  return {
    class: "neutral_demi",
    mix: {
      parts: [{ product: "a", grams: 60 }],
      developer: { percent: 1.9, grams: 60 },
      minutes: 20,
      ...mix,
    },
    predicted: { words: "level 9, beige" },
    chance: 0.3,
    delta_e: 1,
    window: { earliest: 10, best: 15, latest: 20 },
    ...given,
  } as Formula;
}

test("the classes on lifted hair are told apart by what each is chosen for", () => {
  const found = [
    formula({ class: "acid_demi" }, { developer: { percent: 1.5, grams: 60 } }),
    formula({ class: "permanent" }, { developer: { percent: 3, grams: 90 } }),
    formula({ class: "direct" }, { developer: { percent: 0, grams: 0 }, minutes: 5 }),
    formula({}),
  ];
  expect(set_apart(found)).toEqual(["gentlest", "lasts longest", "no developer", "lasts longer"]);
});

test("on white hair the one that covers best says so, and the next has a weaker developer", () => {
  const found = [
    formula({ class: "permanent", coverage: "covered" }, { developer: { percent: 9, grams: 90 } }),
    formula({ class: "permanent", coverage: "blended" }, { developer: { percent: 6, grams: 90 } }),
  ];
  expect(set_apart(found)).toEqual(["best cover", "weakest developer"]);
});

test.each<[string, Partial<Formula>, Partial<Formula["mix"]>, string]>([
  ["minutes", {}, { minutes: 17 }, "quickest"],
  ["minutes too near", {}, { minutes: 18 }, "level 9, beige"],
  ["chance", { chance: 0.35 }, {}, "surest"],
  ["window", { window: { earliest: 7, best: 15, latest: 20 } }, {}, "widest window"],
  ["cost", { cost: 8 }, {}, "cheapest"],
  ["distance", { delta_e: 0.7 }, {}, "closest"],
])("a second mix of the same class is told apart by its %s", (_, given, mix, words) => {
  expect(set_apart([formula({ cost: 10 }), formula({ cost: 10, ...given }, mix)])[1]).toBe(words);
});

test("one alone is set apart from nothing, and two of one class never have the same words", () => {
  expect(set_apart([formula({})])).toEqual([""]);
  const same = set_apart(Array.from({ length: 5 }, () => formula({})));
  expect(new Set(same).size).toBe(5);
});
