import { expect, test } from "vitest";
import type { Step } from "../../api/shapes";
import { due_at, is_late, mends_of, rows_of, when_words } from "./rows";

function apply(zone: string, starts_min: number, ends_min: number, hands = 1): Step {
  return { do: "apply", zone, starts_min, ends_min, hands, words: "" };
}

function rinse(zone: string, starts_min: number, developed_min: number, slack_min: number): Step {
  const ends_min = starts_min + 4;
  return { do: "rinse", zone, starts_min, ends_min, hands: 1, words: "", developed_min, slack_min };
}

const STEPS = [
  apply("lengths", 0, 15),
  apply("roots", 15, 27),
  rinse("roots", 37, 10, 2),
  rinse("lengths", 41, 26, 5),
];

test("each step is a row of what, when and how much room", () => {
  expect(rows_of(STEPS).map(({ order, note }) => `${order}: ${note}`)).toEqual([
    "Put lengths on: 15 minutes",
    "Put roots on: 12 minutes",
    "Rinse roots: at its minute 10, 2 min to spare",
    "Rinse lengths: at its minute 26, 5 min to spare",
  ]);
});

test("zones rinsed at once are one row, and two pairs of hands are told apart", () => {
  const rows = rows_of([
    apply("roots", 0, 9),
    apply("ends", 0, 9, 2),
    rinse("roots", 19, 10, 0),
    rinse("ends", 19, 10, 3),
  ]);
  expect(rows).toHaveLength(3);
  expect(rows[1]?.note).toBe("9 minutes, second pair of hands");
  expect(rows[2]?.order).toBe("Rinse roots and ends together");
  expect(rows[2]?.note).toBe(
    "at its minute 10, no minute to spare and at its minute 10, 3 min to spare",
  );
});

test.each([
  [0, 0, "now"],
  [14, 0, "now"],
  [15, 1, "now"],
  [30, 2, "in 7 min"],
  [37, 2, "now"],
  [44, 3, "now"],
])("at minute %i row %i is due, %s", (now_min, row, when) => {
  const rows = rows_of(STEPS);
  expect(due_at(rows, now_min)).toBe(row);
  expect(when_words(rows[row] as (typeof rows)[0], now_min)).toBe(when);
});

test("after the last rinse nothing is due and all is done", () => {
  const rows = rows_of(STEPS);
  expect(due_at(rows, 45)).toBe(-1);
  expect(rows.every((row) => when_words(row, 45) === "done")).toBe(true);
});

test("a rinse outside its window says by how much", () => {
  expect(rows_of([rinse("roots", 30, 20, -8)])[0]?.note).toBe(
    "at its minute 20, 8 min outside its window",
  );
});

test.each([
  ["as it was ordered", STEPS, 0, 0, false],
  ["a minute after the first zone was to be begun", STEPS, 0, 1, true],
  ["before what comes next", STEPS.slice(1), 5, 15, false],
  ["after what came next", STEPS.slice(1), 5, 16, true],
  ["while a zone is still being put on", STEPS, 3, 15, false],
  ["when it takes longer than it was to", [apply("lengths", 0, 15)], 3, 16, true],
] as const)("work is late or not: %s", (_, steps, ordered_min, now_min, late) => {
  expect(is_late([...steps], ordered_min, now_min)).toBe(late);
});

test("a mend that several zones share is offered once", () => {
  const mend = { do: "second_hands" as const, words: "Let a second pair help.", zones: [] };
  const miss = {
    zone: "roots",
    by_min: 8,
    direction: "too_late" as const,
    words: "",
    mends: [mend],
  };
  expect(mends_of({ impossible: [miss, { ...miss, zone: "ends" }] })).toEqual([mend]);
});
