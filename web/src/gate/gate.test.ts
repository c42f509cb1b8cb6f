// What each file of the gate promises, one by one, on records that are really kept. The rules'
// own answers are the engine's (tests/engine); no answer of theirs is made up here but to be shown.
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import type { Product, Question, SafetyReviewReply } from "../api/shapes";

async function open_page() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const page = {
    ...(await import("../records/read")),
    ...(await import("../records/write")),
    ...(await import("../salon/service/services")),
    ...(await import("../salon/reactions")),
    ...(await import("./answer")),
    ...(await import("./facts")),
    ...(await import("./held")),
    ...(await import("../salon/alert_tests/from_paper")),
    ...(await import("./plan")),
    ...(await import("./review")),
    ...(await import("./state")),
  };
  await page.open_records();
  return page;
}

let page: Awaited<ReturnType<typeof open_page>>;
let id: string;
const page_fetch = globalThis.fetch;
const service = () => {
  const found = page.one("service", id).peek();
  if (!found) throw new Error("no service");
  return found;
};
const first_zone = () => {
  const [zone] = page.zones_of(id);
  if (!zone) throw new Error("no zone");
  return zone;
};

beforeEach(async () => {
  page = await open_page();
  id = await page.plan_for_new_client("Ona Petrel", "2026-11-25T10:00:00Z");
});
afterEach(() => {
  page.close_records();
  globalThis.fetch = page_fetch;
});

const question = (fact: string, more: Partial<Question> = {}): Question => ({
  ...{ fact, pointer: `/facts/${fact}`, words: `${fact}?`, answers: [], closes: [] },
  ...{ may_skip: false, fresh: false, of: "client", ...more },
});
const say = (fact: string, value: unknown, more: Partial<Question> = {}) =>
  page.answer(service(), [{ question: question(fact, more), value, words: String(value) }]);

function product(line: string, percent: number): Product {
  const named = { id: line, name: line, line, class: "neutral_demi", level: 9, tone: ["pearl"] };
  return { ...named, developer_percent: [percent], window: { min: 5, max: 20 } } as Product;
}

const mix = (zone: string, line: string, percent: number) =>
  page.change("zone", zone, {
    mix: { parts: [{ product: line, grams: 30 }], minutes: 10, developer: { percent, grams: 30 } },
    products: [product(line, percent)],
  });

test("what nobody was asked is left out of the facts, and never a no", () => {
  const { tests, said_at, ...facts } = page.facts_of(service());
  expect(facts).toEqual({});
  expect([tests, said_at]).toEqual([[], []]);
});

test("not sure is kept as not sure", async () => {
  await say("scalp", "unknown");
  await say("black_tattoo", "unknown");
  expect(page.facts_of(service())).toMatchObject({ scalp: "unknown", black_tattoo: "unknown" });
  expect(page.is_answered(service(), question("scalp"))).toBe(true);
});

test("what is looked at today is of this service, and what a client is stays with the client", async () => {
  await say("scalp", "sound");
  await say("dye_allergy", "none");
  const next = await page.plan_service(service().client ?? "", "2026-12-25T10:00:00Z");
  const facts = page.facts_of(page.one("service", next).peek() as ReturnType<typeof service>);
  expect(facts.dye_allergy).toBe("none");
  expect(facts.scalp).toBeUndefined();
});

test("a milder answer than the one on record takes what was seen and why", async () => {
  await say("colour_reaction", "mild");
  await expect(say("colour_reaction", "none")).rejects.toBeInstanceOf(page.CautionNeedsDecision);
  expect(page.facts_of(service()).colour_reaction).toBe("mild");
  const picked = { question: question("colour_reaction"), value: "none", words: "No" };
  await page.lower(service(), picked, "a letter", "tested by a doctor");
  expect(page.facts_of(service()).colour_reaction).toBe("none");
});

test("an answer that must be fresh is asked again after a day", async () => {
  await say("scalp", "sound");
  const fresh = question("scalp", { fresh: true });
  expect(page.is_answered(service(), fresh)).toBe(true);
  vi.useFakeTimers({ now: Date.now() + 24 * 3_600_000 + 1000, toFake: ["Date"] });
  expect(page.is_answered(service(), fresh)).toBe(false);
  vi.useRealTimers();
});

test("an answer on a line is kept once for the line", async () => {
  await mix(first_zone().id, "Still", 1.9);
  await say("labelled", "yes", { pointer: "/plan/lines/0/labelled", of: "card" });
  expect(page.plan_of(service()).lines[0]).toMatchObject({ line: "Still", labelled: "yes" });
  expect(page.facts_of(service())).not.toHaveProperty("labelled");
});

test("a paper test keeps its moments, its reader and whether it was relied on", async () => {
  const put_on = { day: "2026-11-22", hour: "10:00" };
  const read = { day: "2026-11-24", hour: "" };
  const said = { result: "clear" as const, applied_by: "salon", used_before: "unknown" };
  const client = service().client ?? "";
  await page.keep_paper_test(client, { line: "Still", put_on, read, ...said, reader: "Ada Venn" });
  const [kept] = page.facts_of(service()).tests ?? [];
  expect(kept).toMatchObject({ from_paper: true, read_by: "Ada Venn", used_before: "unknown" });
  expect(Date.parse(kept?.applied_at ?? "")).toBe(new Date("2026-11-22T10:00").getTime());
});

test("where nothing is said, the plan is the most cautious there is", () => {
  const { lines, areas, purpose, moment } = page.plan_of(service());
  expect(lines).toEqual([{ line: page.NO_LINE, class: "oxidative_permanent" }]);
  expect([areas, purpose, moment]).toEqual([["scalp"], "client", "start"]);
});

test("several bowls are asked as one, with the strongest developer and every area", async () => {
  await mix(first_zone().id, "Still", 1.9);
  const ends = await page.add_zone(id, "ends", undefined);
  await mix(ends, "Fathom", 9);
  await page.change("zone", ends, { area: "lengths", heat: "yes" });
  const plan = page.plan_of(service());
  expect(plan.developer_percent).toBe(9);
  expect([...plan.areas].sort()).toEqual(["lengths", "scalp"]);
  expect(plan.heat).toBe("yes");
  // They share no bowl: nothing of two zones is mixed with each other.
  expect(plan.lines.map(({ may_mix_with }) => may_mix_with)).toEqual([["Fathom"], ["Still"]]);
});

test("nothing is open before an answer, and an answer to another question opens nothing", () => {
  const open = { may_mix: true, may_start: true } as SafetyReviewReply;
  expect([page.may_mix(id), page.may_start(id)]).toEqual([false, false]);
  page.say(id, { reply: open, is_current: false, sentence: "" });
  expect([page.may_mix(id), page.may_start(id)]).toEqual([false, false]);
  page.say(id, { reply: open, is_current: true, sentence: "" });
  expect([page.may_mix(id), page.may_start(id)]).toEqual([true, true]);
  expect(page.gate_of("another service")).toEqual({ is_current: false, sentence: "" });
});

test("grams stay back for a client and not for a few grams of a test", async () => {
  await mix(first_zone().id, "Still", 1.9);
  expect(page.is_withheld(service(), first_zone())).toBe(true);
  // What a service is for stays as it was made: a client's does not become a swatch.
  await expect(page.change("service", id, { purpose: "swatch" })).rejects.toThrow(/stays as/);
  id = await page.create("service", { client: service().client ?? "", purpose: "swatch" });
  await page.add_zone(id, "swatch", undefined);
  await mix(first_zone().id, "Still", 1.9);
  expect(page.is_withheld(service(), first_zone())).toBe(true); // 60 g are no swatch
  const few = { parts: [{ product: "Still", grams: 3 }], minutes: 10 };
  await page.change("zone", first_zone().id, { mix: few });
  expect(page.is_withheld(service(), first_zone())).toBe(false);
});

test("where nobody answers the clock may not start, and the sentence says why", async () => {
  globalThis.fetch = () => Promise.reject(new TypeError("no way"));
  expect(await page.may_start_now(id)).toBe(false);
  expect(page.gate_of(id)).toMatchObject({ is_current: false });
  expect(page.gate_of(id).sentence).toMatch(/^The server does not answer\./);
});

test("a service of nobody is not asked about and does not start", async () => {
  id = await page.create("service", { purpose: "client" });
  expect(await page.may_start_now(id)).toBe(false);
});

test("who reacted here is from then on one who has reacted, and never less by a later record", async () => {
  await say("colour_reaction", "none");
  const seen = { done: [], told: [], text: "", photo: "", by: "Ana" };
  await page.record_reaction(id, { ...seen, signs: ["hot_foil"] });
  expect(page.facts_of(service()).colour_reaction).toBe("none");
  await page.record_reaction(id, { ...seen, signs: ["itch", "hives"] });
  expect(page.facts_of(service()).colour_reaction).toBe("severe");
  await page.record_reaction(id, { ...seen, signs: ["itch"] });
  expect(page.facts_of(service()).colour_reaction).toBe("severe");
});
