import { expect, test } from "vitest";
import one_bowl from "../../../tests/vectors/one_bowl.json";
import type { Product } from "../api/shapes";
import type { Entity } from "../records/shapes";
import { as_product, may_share_a_bowl, tube_words } from "./shelf";

const line = {
  name: "Quill",
  class: "neutral_demi",
  developer_percent: [1.9],
  mix_ratio: 1,
  window: { min: 5, max: 20 },
} as unknown as Entity<"line">;
const shade = { id: "q9v", code: "9V", level: 9, tone: ["violet"] } as unknown as Entity<"product">;

test.each([
  ["lifted", "lifted"],
  ["white", "white"],
  ["any", undefined],
  [undefined, undefined],
] as const)("a line made for %j is asked about as promised on %j", (said, sent) => {
  const product = as_product({ ...line, ...(said && { promised_on: said }) }, shade);
  expect(product?.promised_on).toBe(sent);
  expect(Object.hasOwn(product ?? {}, "promised_on")).toBe(sent !== undefined);
});

test.each(["mix_ratio", "window", "class", "name"])(
  "a line whose %s nobody has read from its leaflet gives nothing to mix",
  (unread) => {
    expect(as_product(line, shade)).toBeDefined();
    expect(as_product({ ...line, [unread]: undefined }, shade)).toBeUndefined();
  },
);

test("a direct dye needs no ratio", () => {
  const direct = { ...line, class: "direct", mix_ratio: undefined } as unknown as Entity<"line">;
  expect(as_product(direct, shade)).toMatchObject({ mix_ratio: 0, developer_percent: [] });
});

test.each(one_bowl)("one bowl, by leaflets that have $name: $may", ({ one, other, may }) => {
  const [first, second] = [one, other].map((said) => said as unknown as Product);
  if (!first || !second) throw new Error("a pair has two");
  expect([may_share_a_bowl(first, second), may_share_a_bowl(second, first)]).toEqual([may, may]);
});

test("a tube's line is said once", () => {
  expect(tube_words({ line: "Still", name: "Still 8 violet" })).toBe("Still 8 violet");
  expect(tube_words({ line: "Still", name: "8 violet" })).toBe("Still 8 violet");
  expect(tube_words({ name: "8 violet" })).toBe("8 violet");
});
