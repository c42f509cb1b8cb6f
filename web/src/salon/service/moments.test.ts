import { expect, test } from "vitest";
import { moments_due, moments_of, next_moment_ms } from "./moments";
import type { Running } from "./running";

const MINUTE_MS = 60_000;

function clock(fields: Partial<Running> = {}): Running {
  return {
    zone: "z",
    service: "s",
    client_name: "Wren",
    zone_name: "roots",
    began_ms: 0,
    most_ms: 20 * MINUTE_MS,
    window: { earliest: 7, best: 10, latest: 12 },
    due: { words: "", at_ms: 0, last: false },
    ...fields,
  };
}

const due = (minute: number, heard: string[] = []) =>
  moments_due([clock()], heard, minute * MINUTE_MS).map(({ words }) => words);

test("nothing is due before the window, then a look, then the rinse alone", () => {
  expect(due(6.99)).toEqual([]);
  expect(due(7)).toEqual(["Wren, roots: look again, you can rinse from here"]);
  expect(due(12)).toEqual(["Wren, roots: rinse now"]);
  expect(due(60)).toEqual(["Wren, roots: rinse now"]);
});

test("what was heard rings no more, but what comes after it does", () => {
  const [look] = moments_of(clock());
  expect(due(8, [look?.key ?? ""])).toEqual([]);
  expect(due(13, [look?.key ?? ""])).toEqual(["Wren, roots: rinse now"]);
});

test("a clock that was moved rings at its new time, even where the old one was heard", () => {
  const [look] = moments_of(clock());
  const moved = clock({ began_ms: MINUTE_MS });
  expect(moments_due([moved], [look?.key ?? ""], 7.5 * MINUTE_MS)).toEqual([]);
  expect(moments_due([moved], [look?.key ?? ""], 8 * MINUTE_MS)).toHaveLength(1);
});

test("no moment lies after the maker's time", () => {
  const short = clock({ most_ms: 9 * MINUTE_MS });
  expect(moments_of(short).map(({ at_ms }) => at_ms)).toEqual([7 * MINUTE_MS, 9 * MINUTE_MS]);
  const hopeless = clock({ window: { reason: "out of reach" } });
  expect(moments_of(hopeless).map(({ at_ms }) => at_ms)).toEqual([20 * MINUTE_MS]);
});

test("the next moment is the first of all clocks", () => {
  const two = [clock(), clock({ zone: "y", began_ms: -5 * MINUTE_MS })];
  expect(next_moment_ms(two, 0)).toBe(2 * MINUTE_MS);
  expect(next_moment_ms(two, 12 * MINUTE_MS)).toBeUndefined();
});
