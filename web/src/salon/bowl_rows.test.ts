import { expect, test } from "vitest";
import { bowl_rows } from "./bowl_rows";

test("a bowl's rows are its tubes as they are weighed, and the developer where there is any", () => {
  const parts = [{ product: "p1", grams: 21 }];
  const mix = { parts, developer: { percent: 3, grams: 42 }, minutes: 16 };
  expect(bowl_rows(mix).map(({ id, amount }) => [id, amount])).toEqual([
    ["p1", "21\u00a0g"],
    ["developer", "42\u00a0g"],
  ]);
  // A mask is put on as it is.
  const alone = { ...mix, developer: { percent: 3, grams: 0 } };
  expect(bowl_rows(alone).map(({ id }) => id)).toEqual(["p1"]);
});
