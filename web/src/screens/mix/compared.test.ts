import { beforeEach, expect, test } from "vitest";
import type { Formula, FormulationReply } from "../../api/shapes";
import { mix_key } from "../../bench/chosen";
import type { Answer, Request } from "../../engine/ask";
import { formulas } from "../../engine/questions";
import { compare, compared, comparing, end_compare, tick } from "./compared";

const FOUND = [10, 20, 30, 40].map(
  (grams) => ({ mix: { parts: [{ product: "a", grams }] } }) as Formula,
);
const [one, other, third, fourth] = FOUND.map(({ mix }) => mix_key(mix)) as [
  string,
  string,
  string,
  string,
];

/** Answers with these mixes, as the engine would. */
function answer(...found: Formula[]): void {
  const reply = { formulas: found } as FormulationReply;
  formulas.restore({} as Request<"formulations">, { reply } as Answer<"formulations">);
}

beforeEach(() => {
  end_compare();
  answer(...FOUND);
});

test("two that are ticked are compared once that is tapped, until one goes back", () => {
  tick(one);
  tick(other);
  expect(comparing.value).toBeUndefined();
  compare();
  expect(comparing.value).toEqual(FOUND.slice(0, 2));
  end_compare();
  expect(compared.value).toBeUndefined();
});

test("a comparison ends with its question: the next two ticks wait for a tap", () => {
  tick(one);
  tick(other);
  compare();
  answer(...FOUND.slice(2));
  expect(comparing.value).toBeUndefined();
  tick(third);
  tick(fourth);
  expect(compared.value).toEqual(FOUND.slice(2));
  expect(comparing.value).toBeUndefined();
});
