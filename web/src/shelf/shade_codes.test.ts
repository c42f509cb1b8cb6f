import { expect, test } from "vitest";
import { level_fault, peroxide_fault, read_code } from "./shade_codes";

// An invented line's legend.
const legend = { V: ["violet"], A: ["ash"], VB: ["violet", "blue"], "1": ["ash"], "6": ["violet"] };

test.each([
  ["9V", 9, ["violet"], ""],
  ["9VB", 9, ["violet", "blue"], ""],
  ["10.16", 10, ["ash", "violet"], ""],
  ["10/1", 10, ["ash"], ""],
  ["9 va", 9, ["violet", "ash"], ""],
  ["9VV", 9, ["violet"], ""],
  ["9X", 9, [], "X"],
  ["9", 9, [], ""],
  ["0/0", 10, ["clear"], ""],
  ["Clear", 10, ["clear"], ""],
  ["000", 10, ["clear"], ""],
  ["10/0", 10, [], "0"],
  ["0V", 0, ["violet"], ""],
  ["VB", undefined, ["violet", "blue"], ""],
  ["", undefined, [], ""],
])("the code %j is read as level %j, %j, unknown %j", (code, level, tone, unknown) => {
  expect(read_code(code, legend)).toEqual({ level, tone, unknown });
});

test("a legend of one line says nothing of another", () => {
  expect(read_code("9V", {})).toEqual({ level: 9, tone: [], unknown: "V" });
});

// The trade's 20 vol is 6 %: common practice; at most 12 %, Regulation (EC) No 1223/2009, Annex III.
test.each([
  ["6", ""],
  ["1,9", ""],
  ["12", ""],
  ["20", "20 vol is 6 %"],
  ["40", "40 vol is 12 %"],
  ["", "as a number"],
  ["six", "as a number"],
  ["-3", "as a number"],
])("peroxide typed as %j is answered %j", (typed, words) => {
  if (words) expect(peroxide_fault(typed)).toContain(words);
  else expect(peroxide_fault(typed)).toBe("");
});

test("a label's level is asked for, and bounded", () => {
  expect(level_fault(undefined)).toContain("Say the level");
  expect(level_fault(12)).toContain("got 12");
  expect(level_fault(11)).toBe("");
});
