// Which grams stay back, and how long an answer counts, at each bound and to either side of it.
import { expect, test } from "vitest";
import type { Entity } from "../records/shapes";
import { is_for_client } from "./held";

const swatch = { purpose: "swatch" } as Entity<"service">;
const weighed = (grams: number, developer_g?: number) =>
  ({
    mix: {
      parts: [{ product: "a", grams }],
      minutes: 10,
      ...(developer_g !== undefined && { developer: { percent: 6, grams: developer_g } }),
    },
  }) as Entity<"zone">;
const lightener = (grams: number, mix_ratio: number) =>
  ({ work: "lightener", lightener: { kind: "powder", grams, mix_ratio } }) as Entity<"zone">;

// A dab, a strand or a swatch takes 2 to 10 g: common practice, no published source.
test.each([
  ["9.9 g", weighed(9.9), false],
  ["10 g", weighed(10), false],
  ["10.1 g", weighed(10.1), true],
  ["30 g", weighed(30), true],
  ["5 g with 5 g of developer", weighed(5, 5), false],
  ["5 g with 5.1 g of developer", weighed(5, 5.1), true],
  ["5 g of a lightener, one to one", lightener(5, 1), false],
  ["5 g of a lightener, one to two", lightener(5, 2), true],
  ["nothing yet", {} as Entity<"zone">, false],
])("of a swatch %s is held: %s", (_, zone, held) => {
  expect(is_for_client(swatch, zone)).toBe(held);
});

test("a client's grams are held however few they are", () => {
  expect(is_for_client({ purpose: "client" } as Entity<"service">, weighed(1))).toBe(true);
  expect(is_for_client({} as Entity<"service">, weighed(1))).toBe(true);
});
