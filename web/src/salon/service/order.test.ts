import { expect, test } from "vitest";
import { due_next, type OnHead, order_at, rinse_from_ms, within_makers_time } from "./order";

const MINUTE_MS = 60_000;
const window = { earliest: 7, best: 10, latest: 12 };
const wall = (at_ms: number) => `${at_ms / MINUTE_MS}:00`;

function zone(fields: Partial<OnHead> = {}): OnHead {
  return { began_ms: 0, most_ms: 20 * MINUTE_MS, window, ...fields };
}

const due = (minute: number, of = zone()) => due_next(of, minute * MINUTE_MS);
const told = (minute: number, of = zone(), saturate = false) => {
  const { verb, figure = "" } = order_at(of, minute * MINUTE_MS, wall, saturate);
  return `${verb} ${figure}`.trim();
};

test.each([
  [0, "rinse from 7", 7],
  [6.99, "rinse from 7", 7],
  [7, "best at 10", 10],
  [10, "rinse by 12", 12],
  [30, "rinse by 12", 12],
])("at minute %f the zone is told: %s", (minute, words, at) => {
  expect(due(minute)).toMatchObject({ words, at_ms: at * MINUTE_MS });
});

test("nothing is due after the maker's time, which runs from the first section", () => {
  // The last section came five minutes after the first, and the maker allows fifteen.
  const of = zone({ began_ms: 5 * MINUTE_MS, most_ms: 15 * MINUTE_MS });
  expect(due(14.5, of).at_ms).toBe(of.most_ms);
});

test("a window is cut where the maker's time ends", () => {
  const cut = within_makers_time(window, 5 * MINUTE_MS, 14 * MINUTE_MS);
  expect(cut).toEqual({ earliest: 7, best: 9, latest: 9 });
  const reason = { reason: "the wish is out of reach" };
  expect(within_makers_time(reason, 0, MINUTE_MS)).toBe(reason);
});

test("without a window the zone is told to dry a strand, by the maker's time", () => {
  const of = zone({ window: { reason: "the wish is out of reach" } });
  expect(due(0, of)).toMatchObject({
    words: "dry a strand, then rinse by",
    at_ms: 20 * MINUTE_MS,
  });
  expect(told(3, of)).toBe("Dry a strand");
  expect(rinse_from_ms(of)).toBeUndefined();
});

test.each([
  [0, "Wait 7"],
  [4.5, "Wait 3"],
  [6.99, "Wait 1"],
  [7, "Look again"],
  [10, "Rinse now"],
  [12.5, "Rinse now"],
  [15, "Rinse now"],
  [20, "Rinse now"],
])("at minute %f the order is: %s", (minute, order) => {
  expect(told(minute)).toBe(order);
});

test("a second look is the order until it is taken, and the countdown is the same", () => {
  const late = zone({ look_again_min: 9 });
  expect(told(4, late)).toBe("Wait 5");
  expect(due(4, late).words).toBe("look again at 9");
  expect(told(8, late)).toBe("Wait 1");
  expect(told(9.5, late)).toBe("Look again");
  expect(told(10, late)).toBe("Rinse now");
  const early = zone({ look_again_min: 5 });
  expect(told(4, early)).toBe("Wait 1");
  expect(told(6, early)).toBe("Look again");
  expect(due(6, early).words).toBe("rinse from 7");
});

test("patchy hair is saturated until it is looked at again", () => {
  const patchy = zone({ look_again_min: 6 });
  expect(told(3, patchy, true)).toBe("Saturate again");
  expect(due(3, patchy).words).toBe("look again at 6");
  expect(told(6, patchy, true)).toBe("Look again");
});

test("whatever comes next, an order that waits says the minutes of the countdown", () => {
  for (let half = 0; half < 40; half += 1) {
    for (const look_again_min of [undefined, 3, 9, 11]) {
      const of = zone(look_again_min === undefined ? {} : { look_again_min });
      const at_ms = half * 30_000 + 1;
      const { verb, figure } = order_at(of, at_ms, wall);
      if (verb !== "Wait") continue;
      const left_ms = due_next(of, at_ms).at_ms - at_ms;
      expect(Number(figure)).toBe(Math.ceil(left_ms / MINUTE_MS));
    }
  }
});
