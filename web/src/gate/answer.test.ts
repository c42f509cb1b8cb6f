// How long an answer that must be fresh counts: a day, and not a moment longer.
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { afterEach, expect, test, vi } from "vitest";
import type { Question } from "../api/shapes";

const DAY_MS = 24 * 3_600_000;
const SCALP: Question = {
  ...{ fact: "scalp", pointer: "/facts/scalp", words: "How is the scalp?", answers: [] },
  ...{ closes: [], may_skip: false, fresh: true, of: "colourist" },
  ...{ kept_with: "service", input: "choice" },
};

afterEach(() => vi.useRealTimers());

test.each([
  [DAY_MS - 1, true],
  [DAY_MS, true],
  [DAY_MS + 1, false],
])("%i ms after it was given it is still an answer: %s", async (later_ms, counts) => {
  const said_ms = Date.parse("2026-11-25T10:00:00Z");
  vi.useFakeTimers({ now: said_ms, toFake: ["Date"] });
  globalThis.indexedDB = new IDBFactory();
  vi.resetModules();
  const { close_records, one, open_records } = await import("../records/read");
  const { plan_for_new_client } = await import("../salon/service/services");
  const { answer, is_answered } = await import("./answer");
  await open_records();
  const id = await plan_for_new_client("Ona Petrel", "2026-11-25T10:00:00Z");
  const service = () => one("service", id).peek() as NonNullable<ReturnType<typeof read>>;
  const read = () => one("service", id).peek();
  await answer(service(), [{ question: SCALP, value: "sound", words: "sound" }]);
  vi.setSystemTime(said_ms + later_ms);
  expect(is_answered(service(), SCALP)).toBe(counts);
  expect(is_answered(service(), { ...SCALP, fresh: false })).toBe(true);
  close_records();
});

test("two lines that are asked the same keep what is typed apart", async () => {
  const { draft_name } = await import("./answer");
  const of_line = (about: string): Question => ({
    ...{ ...SCALP, fact: "leaflet_version", kept_with: "line", input: "text", about },
  });
  const names = ["Still", "Lark", "Still/Lark"].map((line) => draft_name(of_line(line)));
  expect(new Set(names).size).toBe(3);
  // A slash parts the form from its record (device/typed.ts).
  expect(names.filter((name) => name.includes("/"))).toEqual([]);
});
