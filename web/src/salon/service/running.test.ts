import { expect, test } from "vitest";
import { minute_of } from "./running";

test("minutes are whole and never below nought", () => {
  expect(minute_of({ began_ms: 0 }, 59_999)).toBe(0);
  expect(minute_of({ began_ms: 0 }, 60_000)).toBe(1);
  expect(minute_of({ began_ms: 5000 }, 0)).toBe(0);
});
