// When an answer of the rules counts: only while it answers what is on record, and is asked again
// each minute. The rules' own answers are the engine's; here only their being open is made up.
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import type { Question } from "../api/shapes";

async function open_page() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const page = {
    ...(await import("../records/read")),
    ...(await import("../records/write")),
    ...(await import("../salon/service/services")),
    ...(await import("./answer")),
    ...(await import("./review")),
    ...(await import("./state")),
  };
  await page.open_records();
  return page;
}

let page: Awaited<ReturnType<typeof open_page>>;
let id: string;
let end: () => void = () => undefined;
/** The calls that were made, the oldest first; each is answered with what is asked next. */
let waiting: ((open: boolean, questions?: readonly Question[]) => void)[];

beforeEach(async () => {
  waiting = [];
  vi.stubGlobal("fetch", (_: string, { signal }: RequestInit) => {
    return new Promise<Response>((answered, failed) => {
      waiting.push((open, questions = []) => {
        const findings = questions.map(({ fact }) => ({ id: fact, group: "holds" }));
        const said = { may_mix: open, may_start: open, engine_version: "1" };
        answered(Response.json({ ...said, findings, questions }));
      });
      signal?.addEventListener("abort", () => failed(signal.reason));
    });
  });
  page = await open_page();
  id = await page.plan_for_new_client("Ona Petrel", "2026-11-25T10:00:00Z");
});
afterEach(() => {
  end();
  vi.useRealTimers();
  vi.unstubAllGlobals();
  page.close_records();
});

const a_turn = () => new Promise((done) => setImmediate(done));
const until = async (holds: () => boolean) => {
  while (!holds()) await a_turn();
};
const asked = (times: number) => until(() => waiting.length === times);
const current = () => until(() => page.gate_of(id).is_current);
const client = () => page.one("service", id).peek()?.client ?? "";

test("an answer counts no longer from the moment another question is asked", async () => {
  end = page.watch(id);
  await asked(1);
  waiting[0]?.(true);
  await current();
  await page.change("client", client(), { colour_reaction: "severe" });
  expect(page.gate_of(id)).toMatchObject({ is_current: false, reply: { may_start: true } });
});

const question = (fact: string): Question => ({
  ...{ fact, pointer: `/facts/${fact}`, words: `${fact}?`, answers: [], closes: [fact] },
  ...{ may_skip: false, fresh: false, of: "colourist", kept_with: "service", input: "choice" },
});
const shown = () => page.gate_of(id).asked?.waiting.map(({ fact }) => fact);

test("the questions stay until the next answer, which may need none of the rest", async () => {
  end = page.watch(id);
  await asked(1);
  waiting[0]?.(false, [question("heat"), question("heat_allowed")]);
  await current();
  expect(shown()).toEqual(["heat", "heat_allowed"]);
  const service = page.one("service", id).peek();
  if (!service) throw new Error("no service");
  await page.answer(service, [{ question: question("heat"), value: "no", words: "No" }]);
  await asked(2);
  expect(page.gate_of(id).is_current).toBe(false);
  expect(shown()).toEqual(["heat", "heat_allowed"]);
  // What has an answer is not asked again, though the rules still name it.
  waiting[1]?.(true, [question("heat")]);
  await current();
  expect(shown()).toEqual([]);
});

test("as time alone passes an answer counts until it is given again", async () => {
  end = page.watch(id);
  await asked(1);
  waiting[0]?.(true);
  await current();
  const again = page.ask_now(id);
  await asked(2);
  expect(page.gate_of(id).is_current).toBe(true);
  waiting[1]?.(false);
  expect(await again).toBe(false);
  expect(page.gate_of(id)).toMatchObject({ is_current: true, reply: { may_start: false } });
});

test.each([
  [59_999, 1],
  [60_000, 2],
  [60_001, 2],
])("after %i ms the rules were asked %i times", async (passed_ms, times) => {
  vi.useFakeTimers({ toFake: ["setInterval", "clearInterval"] });
  end = page.watch(id);
  await asked(1);
  waiting[0]?.(true);
  await current();
  vi.advanceTimersByTime(passed_ms);
  for (let turns = 0; turns < 50; turns += 1) await a_turn();
  expect(waiting).toHaveLength(times);
});

test("an answer is waited for for 15 seconds, and then the clock may not start", async () => {
  const { ask_now } = page;
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
  let ended: boolean | undefined;
  const asking = ask_now(id).then((open) => {
    ended = open;
  });
  await asked(1);
  vi.advanceTimersByTime(14_999);
  for (let turns = 0; turns < 50; turns += 1) await a_turn();
  expect(ended).toBeUndefined();
  vi.advanceTimersByTime(1);
  await asking;
  expect(ended).toBe(false);
});
