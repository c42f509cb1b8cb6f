import { expect, test } from "vitest";
import type { Entity } from "../records/shapes";
import { as_product } from "./shelf";

const line = {
  name: "Quill",
  class: "neutral_demi",
  developer_percent: [1.9],
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
