// What a whole bowl comes to on a swatch: few grams, and still the same mix.
import { expect, test } from "vitest";
import type { Mix } from "../../api/shapes";
import { grams_of } from "./services";
import { as_swatch } from "./tried";

const bowl = (parts_g: number[], developer_g?: number): Mix => ({
  parts: parts_g.map((grams, at) => ({ product: `p${at}`, grams })),
  minutes: 10,
  ...(developer_g !== undefined && { developer: { percent: 1.5, grams: developer_g } }),
});

// A dab, a strand or a swatch takes 2 to 10 g: common practice, no published source.
test.each([
  ["a usual bowl", bowl([10, 50], 60)],
  ["one drop of a strong shade", bowl([5, 55, 60], 240)],
  ["no developer", bowl([30])],
  ["more developer than colour", bowl([20, 20, 20], 120)],
])("%s is at most 10 g on a swatch, with every part in it", (_, mix) => {
  const few = as_swatch(mix);
  expect(grams_of(few)).toBeLessThanOrEqual(10);
  const whole_g = grams_of(mix);
  few.parts.forEach(({ grams }, at) => {
    const share = (mix.parts[at]?.grams ?? 0) / whole_g;
    // To a tenth of a gram, as the finest scale shows it.
    expect(Math.abs(grams - share * 8)).toBeLessThanOrEqual(0.05 + 1e-9);
  });
});

test("a mix of few grams stays as it is", () => {
  expect(as_swatch(bowl([2], 2))).toEqual(bowl([2], 2));
});
