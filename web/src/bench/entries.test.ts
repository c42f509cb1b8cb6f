import { afterEach, expect, test } from "vitest";
import { fitted } from "../device/kept";
import { money, settings, strength, weight } from "../device/settings";
import { hair_entry, wish_entry } from "./entries";
import { allowed_strengths, bare_request, hair_of, lab_of, limits_of, wish_of } from "./requests";

const usual = settings.value;
afterEach(() => {
  settings.value = usual;
});

// The trade's 10, 20, 30, 40 vol are 3, 6, 9, 12 %: common practice, no published source.
test.each([
  [3, "10\u00a0vol"],
  [6, "20\u00a0vol"],
  [9, "30\u00a0vol"],
  [12, "40\u00a0vol"],
  [1.9, "6.3\u00a0vol"],
])("%f %% peroxide is shown as %s", (percent, words) => {
  settings.value = { ...usual, developer: "volume" };
  expect(strength(percent)).toBe(words);
});

// International avoirdupois ounce, 28.349523125 g exactly (Weights and Measures Act 1985, Sch. 1).
test("weights are shown in ounces to the hundredth", () => {
  settings.value = { ...usual, weight: "oz" };
  expect(weight(28.349523125)).toBe("1.00\u00a0oz");
  expect(weight(40)).toBe("1.41\u00a0oz");
});

test("grams and percent are shown as they are", () => {
  expect(weight(40)).toBe("40\u00a0g");
  expect(strength(1.9)).toBe("1.9\u00a0%");
  expect(money(4.2)).toBe("€ 4.20");
});

test("what was kept gives way, field by field, where its shape is another", () => {
  const initial = { level: 10, seen: "dry", also: [] as number[], deep: { on: false } };
  const found = { level: "ten", seen: "wet", also: {}, deep: { on: true, old: 1 }, gone: 3 };
  expect(fitted(found, initial)).toEqual({ level: 10, seen: "wet", also: [], deep: { on: true } });
  expect(fitted(null, initial)).toEqual(initial);
  expect(fitted([1], initial)).toEqual(initial);
});

test.each([
  [
    ["70", "1.5", "-2"],
    [70, 1.5, -2],
  ],
  [["70", "", "2"], null],
  [["70", "-", "2"], null],
  [[" ", "1", "2"], null],
])("the reading %j is %j", (entry, lab) => {
  expect(lab_of(entry as [string, string, string])).toEqual(lab);
});

test("a hair by reading leaves out what the reading already sees", () => {
  const entry = {
    ...hair_entry.value,
    by_reading: true,
    already_on: [{ product: "a", minutes: 3 }],
    reading: { lab: ["70", "1", "20"] as [string, string, string], state: "damp" as const },
  };
  const hair = hair_of(entry);
  expect(hair).toMatchObject({ reading: { lab: [70, 1, 20], state: "damp" } });
  expect(hair).not.toHaveProperty("already_on");
  expect(hair).not.toHaveProperty("level");
});

test("a wish is asked only once it is whole", () => {
  expect(wish_of(wish_entry.value)).toBeNull();
  expect(wish_of({ ...wish_entry.value, tone: ["pearl"] })).toEqual({
    level: 10,
    tone: ["pearl"],
    tolerance: 3,
  });
  expect(wish_of({ ...wish_entry.value, by_reading: true })).toBeNull();
});

test("the steps weighed always divide the whole, into sixty at most", () => {
  for (let total_g = 10; total_g <= 300; total_g += 10) {
    const { step_g = 0 } = limits_of({ total_g, max_products: 3 });
    expect(total_g % step_g).toBe(0);
    expect(total_g / step_g).toBeLessThanOrEqual(60);
  }
});

test("a strength of developer limits a question while a leaflet on the shelf allows it", () => {
  const shelf = [[3, 6], [6, 12, 14], []].map((developer_percent) => ({ developer_percent }));
  const amounts = { total_g: 60, max_products: 3 };
  const limits = (developer_percent: number) =>
    limits_of({ ...amounts, developer_percent }, shelf as never);
  expect(allowed_strengths(shelf as never)).toEqual([3, 6, 12]);
  expect(limits(12).developer_percent).toBe(12);
  for (const percent of [0, 9, 14]) expect(limits(percent)).not.toHaveProperty("developer_percent");
});

test("how white hair takes colour is asked with only where there is some and it resists", () => {
  const hair = { ...hair_entry.value, white_uptake: 0.75 };
  expect(hair_of({ ...hair, white_share: 0.5 })).toMatchObject({ white_uptake: 0.75 });
  expect(hair_of({ ...hair, white_share: 0 })).not.toHaveProperty("white_uptake");
  const { white_uptake: _, ...as_kept_before } = { ...hair, white_share: 0.5 };
  expect(hair_of(as_kept_before)).not.toHaveProperty("white_uptake");
});

test("bare hair is asked about with only the products that are on it", () => {
  const on = { parts: [{ product: "b", grams: 40 }], minutes: 3 };
  const shelf = ["a", "b"].map((id) => ({ id }) as never);
  const request = bare_request({ level: 9, already_on: [on] }, shelf);
  expect(request.products.map(({ id }) => id)).toEqual(["nothing", "b"]);
  expect(request.minutes).toEqual([0]);
});
