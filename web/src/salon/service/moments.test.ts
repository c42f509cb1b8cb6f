import { expect, test } from "vitest";
import { moments_due, moments_of, next_moment_ms, rings_by_service } from "./moments";
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
    is_on: true,
    due: { is: "from", words: "", at_ms: 0, last: false },
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

test("a phone whose own clock was set back hears under the same name as every other", () => {
  const [here] = moments_of(clock());
  const [there] = moments_of(
    clock({ began_ms: -60 * MINUTE_MS, most_ms: -40 * MINUTE_MS, moved_ms: -60 * MINUTE_MS }),
  );
  expect(there?.at_ms).toBe((here?.at_ms ?? 0) - 60 * MINUTE_MS);
  expect(there?.key).toBe(here?.key);
  expect(here?.heard_as).toBe("from 1970-01-01T00:07:00Z");
});

test("no moment lies after the maker's time", () => {
  const short = clock({ most_ms: 9 * MINUTE_MS });
  expect(moments_of(short).map(({ at_ms }) => at_ms)).toEqual([7 * MINUTE_MS, 9 * MINUTE_MS]);
  const hopeless = clock({ window: { reason: "out of reach" } });
  expect(moments_of(hopeless).map(({ at_ms }) => at_ms)).toEqual([20 * MINUTE_MS]);
});

test("a second look that is worth waiting for rings in the place of the first minute", () => {
  const looked = clock({ look_again_min: 9 });
  expect(moments_of(looked).map(({ words }) => words)).toEqual([
    "Wren, roots: look again",
    "Wren, roots: rinse now",
  ]);
});

test("the next moment is the first of all clocks", () => {
  const two = [clock(), clock({ zone: "y", began_ms: -5 * MINUTE_MS })];
  expect(next_moment_ms(two, 0)).toBe(2 * MINUTE_MS);
  expect(next_moment_ms(two, 12 * MINUTE_MS)).toBeUndefined();
});

test("a desk rings a minute after the phone whose chair it is, unless it was heard", () => {
  const late = clock({ rings_late_ms: 60_000 });
  const at = (minute: number) => moments_due([late], [], minute * MINUTE_MS).length;
  expect(at(7.99)).toBe(0);
  expect(at(8)).toBe(1);
  expect(next_moment_ms([late], 7 * MINUTE_MS)).toBe(8 * MINUTE_MS);
  const [moment] = moments_due([late], [], 8 * MINUTE_MS);
  expect(moments_due([late], [moment?.key ?? ""], 9 * MINUTE_MS)).toEqual([]);
});

test("what rings for one client is one row, the first to ring on top", () => {
  const clocks = [
    clock({ zone: "a", zone_name: "ends", window: { earliest: 9, best: 10, latest: 12 } }),
    clock({ zone: "b" }),
    clock({
      zone: "c",
      service: "t",
      client_name: "Ona",
      window: { earliest: 2, best: 3, latest: 4 },
    }),
  ];
  const rows = rings_by_service(moments_due(clocks, [], 9 * MINUTE_MS));
  expect(rows.map(({ words }) => words)).toEqual([
    "Ona, roots: rinse now",
    "Wren: roots and ends, look again, you can rinse from here",
  ]);
  const differ = rings_by_service(moments_due(clocks.slice(0, 2), [], 12 * MINUTE_MS - 1));
  expect(differ).toHaveLength(1);
  const both = clock({
    zone: "d",
    zone_name: "fringe",
    window: { earliest: 3, best: 4, latest: 5 },
  });
  const mixed = rings_by_service(moments_due([clock(), both], [], 8 * MINUTE_MS));
  expect(mixed[0]?.words).toBe("Wren: fringe rinse now; roots look again, you can rinse from here");
});
