import { beforeEach, expect, test, vi } from "vitest";

const HOUR_MS = 3_600_000;

type Moves = typeof import("./clock_moves");
let moves: Moves;

beforeEach(async () => {
  vi.resetModules();
  moves = await import("./clock_moves");
});

test("a clock set back is left out of the minutes of the zones that ran, and said", () => {
  moves.take_move(-HOUR_MS, ["roots"], true);
  expect(moves.moved_since("roots")).toBe(-HOUR_MS);
  expect(moves.moved_since("a zone begun since")).toBe(0);
  expect(moves.move_words(moves.move_to_say.value as never)).toContain("set back by 1 h");
});

test("a clock set back while the page was out of sight is as sure", () => {
  moves.take_move(-HOUR_MS, ["roots"], false);
  expect(moves.moved_since("roots")).toBe(-HOUR_MS);
});

test("a jump ahead changes nothing until a person says that the clock was moved", () => {
  moves.take_move(HOUR_MS, ["roots"], true);
  expect(moves.moved_since("roots")).toBe(0);
  const move = moves.move_to_say.value;
  expect(moves.move_words(move as never)).toContain("jumped ahead by 1 h");
  moves.settle_move(move as never, true);
  expect(moves.moved_since("roots")).toBe(HOUR_MS);
  expect(moves.move_to_say.value).toBeUndefined();
});

test("a phone that slept out of sight says nothing, and its minutes go on", () => {
  moves.take_move(HOUR_MS, ["roots"], false);
  expect(moves.move_to_say.value).toBeUndefined();
  expect(moves.moved_since("roots")).toBe(0);
});

test("moved ahead and back again is as if nothing had been", () => {
  moves.take_move(HOUR_MS, ["roots"], true);
  moves.take_move(-HOUR_MS + 900, ["roots"], true);
  expect(moves.move_to_say.value).toBeUndefined();
  expect(moves.moved_since("roots")).toBe(0);
});

test("a second or two is no move, nor is any while nothing runs", () => {
  moves.take_move(-1900, ["roots"], true);
  moves.take_move(-HOUR_MS, [], true);
  expect(moves.move_to_say.value).toBeUndefined();
});
