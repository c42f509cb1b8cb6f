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
    ...(await import("../salon/service/zone_acts")),
    ...(await import("../salon/reactions")),
    ...(await import("./answer")),
    ...(await import("./held")),
    ...(await import("../salon/alert_tests/from_paper")),
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
  ...{ may_skip: false, fresh: false, of: "client", kept_with: "service", input: "choice" },
  ...more,
});
/** What is sent of the service's records. */
const sent = (of = service()) => page.request_of(of, Date.now()).records;
const OF_CLIENT = { kept_with: "client" } as const;
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

test("what nobody was asked is not sent, and never as a no", () => {
  const { client = [], service: services = [], alert_test } = sent();
  expect(client).toEqual([
    { id: service().client, created_at: expect.any(String), name: "Ona Petrel" },
  ]);
  expect(services[0]).toEqual({ id, created_at: expect.any(String), client: service().client });
  expect(alert_test).toEqual([]);
});

test("not sure is kept as not sure", async () => {
  await say("scalp", "unknown");
  await say("black_tattoo", "unknown", OF_CLIENT);
  expect(sent().service?.[0]?.facts).toMatchObject([{ fact: "scalp", value: "unknown" }]);
  expect(sent().client?.[0]?.black_tattoo).toBe("unknown");
  expect(page.is_answered(service(), question("scalp"))).toBe(true);
});

test("what is looked at today is of this service, and what a client is stays with the client", async () => {
  await say("scalp", "sound");
  await say("dye_allergy", "none", OF_CLIENT);
  const next = await page.plan_service(service().client ?? "", "2026-12-25T10:00:00Z");
  const of_next = sent(page.one("service", next).peek() as ReturnType<typeof service>);
  expect(of_next.client?.[0]?.dye_allergy).toBe("none");
  expect(of_next.service?.find((each) => each.id === next)).not.toHaveProperty("facts");
});

test("a milder answer than the one on record takes what was seen and why", async () => {
  await say("colour_reaction", "mild", OF_CLIENT);
  const less = say("colour_reaction", "none", OF_CLIENT);
  await expect(less).rejects.toBeInstanceOf(page.CautionNeedsDecision);
  expect(sent().client?.[0]?.colour_reaction).toBe("mild");
  const picked = { question: question("colour_reaction", OF_CLIENT), value: "none", words: "No" };
  await page.lower(service(), picked, "a letter", "tested by a doctor");
  expect(sent().client?.[0]?.colour_reaction).toBe("none");
});

test("an answer that must be fresh is asked again after a day", async () => {
  await say("scalp", "sound");
  const fresh = question("scalp", { fresh: true });
  expect(page.is_answered(service(), fresh)).toBe(true);
  vi.useFakeTimers({ now: Date.now() + 24 * 3_600_000 + 1000, toFake: ["Date"] });
  expect(page.is_answered(service(), fresh)).toBe(false);
  vi.useRealTimers();
});

test("an answer on a line is kept once for the line, and sent with the lines in the bowls", async () => {
  const of_line = { kept_with: "line", about: "Still", of: "card" } as const;
  await say("labelled", "yes", of_line);
  expect(page.is_answered(service(), question("labelled", of_line))).toBe(true);
  expect(page.is_answered(service(), question("labelled", { ...of_line, about: "Fathom" }))).toBe(
    false,
  );
  expect(sent().setting).toEqual([]);
  await mix(first_zone().id, "Still", 1.9);
  expect(sent().setting).toMatchObject([
    { key: "line card: Still: labelled", value: { value: "yes" } },
  ]);
});

test("answers of a line, a zone and a visit given together are one act, each kept by its fact", async () => {
  await mix(first_zone().id, "Still", 1.9);
  const of_line = { kept_with: "line", about: "Still", of: "card" } as const;
  const asked = [
    question("labelled", of_line),
    question("label_caution", of_line),
    question("gloves"),
    question("heat", { kept_with: "zone" }),
  ];
  const value = (fact: string) => (fact === "heat" ? "no" : "yes");
  const given = asked.map((one) => ({ question: one, value: value(one.fact), words: "Said" }));
  await page.answer(service(), given);
  expect(asked.map((one) => page.is_answered(service(), one))).toEqual([true, true, true, true]);
  expect(page.last_act.value?.words).toBe("Answered 4 questions.");
  await page.undo();
  expect(asked.map((one) => page.is_answered(service(), one))).toEqual([
    false,
    false,
    false,
    false,
  ]);
});

test("an answer about a test is kept with the client under the test's id", async () => {
  const of_test = { kept_with: "test", about: "t1" } as const;
  await say("used_before", "no", of_test);
  expect(sent().client?.[0]?.answers).toMatchObject([{ fact: "used_before:t1", value: "no" }]);
  expect(page.is_answered(service(), question("used_before", of_test))).toBe(true);
  expect(page.is_answered(service(), question("used_before", { ...of_test, about: "t2" }))).toBe(
    false,
  );
});

test("an answer about heat is kept with each zone that is mixed", async () => {
  await mix(first_zone().id, "Still", 1.9);
  await say("heat", "no", { kept_with: "zone" });
  expect(first_zone().heat).toBe("no");
  expect(page.is_answered(service(), question("heat", { kept_with: "zone" }))).toBe(true);
});

test("a paper test keeps its moments, its reader and whether it was relied on", async () => {
  const put_on = { day: "2026-11-22", hour: "10:00" };
  const read = { day: "2026-11-24", hour: "" };
  const said = { result: "clear" as const, applied_by: "salon", used_before: "unknown" };
  const client = service().client ?? "";
  await page.keep_paper_test(client, { line: "Still", put_on, read, ...said, reader: "Ada Venn" });
  const [kept] = sent().alert_test ?? [];
  expect(kept).toMatchObject({ from_paper: true, read_by: "Ada Venn" });
  expect(sent().client?.[0]?.answers).toMatchObject([
    { fact: `used_before:${kept?.id}`, value: "unknown" },
  ]);
  expect(Date.parse(kept?.applied_at ?? "")).toBe(new Date("2026-11-22T10:00").getTime());
});

test("of a zone what the rules read is sent, and nothing of another client's", async () => {
  await mix(first_zone().id, "Still", 1.9);
  await page.plan_for_new_client("Tam Ferris", "2026-11-25T11:00:00Z");
  const [zone, ...others] = sent().zone ?? [];
  expect(others).toEqual([]);
  expect(zone).not.toHaveProperty("entered");
  expect(zone?.mix).toEqual({ parts: [{ product: "Still" }], developer: { percent: 1.9 } });
  expect(zone?.products).toEqual([
    {
      id: "Still",
      line: "Still",
      class: "neutral_demi",
      developer_percent: [1.9],
      window: { max: 20 },
    },
  ]);
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
  await say("colour_reaction", "none", OF_CLIENT);
  const seen = { done: [], told: [], text: "", photo: "", by: "Ana" };
  await page.record_reaction(id, { ...seen, signs: ["hot_foil"] });
  expect(sent().client?.[0]?.colour_reaction).toBe("none");
  await page.record_reaction(id, { ...seen, signs: ["itch", "hives"] });
  expect(sent().client?.[0]?.colour_reaction).toBe("severe");
  await page.record_reaction(id, { ...seen, signs: ["itch"] });
  expect(sent().client?.[0]?.colour_reaction).toBe("severe");
});
