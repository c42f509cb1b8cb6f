import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { beforeEach, expect, test, vi } from "vitest";
import type { Colour } from "../../api/shapes";

/** The page's own modules, loaded anew on an empty phone. */
async function open_page() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const read = await import("../../records/read");
  const write = await import("../../records/write");
  const services = { ...(await import("./services")), ...(await import("./begin")) };
  const start = await import("./start");
  const standing = await import("./standing");
  const told = await import("../client_history");
  const { running } = await import("./running");
  await read.open_records();
  return { running, ...told, ...read, ...write, ...services, ...start, ...standing };
}

let page: Awaited<ReturnType<typeof open_page>>;
beforeEach(async () => {
  page?.close_records();
  page = await open_page();
});

const DAY_MS = 24 * 3_600_000;
const said = (value: string, at: string) => ({ value, words: value, at, by: "" });
const MIX = {
  parts: [{ product: "p1", grams: 21 }],
  developer: { percent: 3, grams: 42 },
  minutes: 16,
};

const PRODUCT = {
  id: "p1",
  name: "8 violet",
  line: "Cobble",
  class: "permanent" as const,
  level: 8,
  tone: ["violet"],
  developer_percent: [3],
  window: { min: 5, max: 20 },
};

async function visit_of_a_client() {
  const client = await page.create("client", {
    name: "Ona Fictive",
    colour_reaction: "none",
    answers: { colour_reaction: said("none", "2026-12-01T09:00:00Z") },
  });
  const service = await page.plan_service(client, "2026-12-01T10:00:00Z");
  const [zone] = page.zones_of(service);
  if (!zone) throw new Error("a planned service has a zone");
  await page.change("zone", zone.id, {
    mix: MIX,
    products: [PRODUCT],
    most_minutes: 20,
  });
  await page.create("tube", { product: "p1", batch: "K4407" });
  return { client, service, zone: zone.id };
}

const zone_now = (id: string) => page.one("zone", id).value as never;

test("a start keeps answers, grams, line and batch, and nothing later changes it", async () => {
  const { client, service, zone } = await visit_of_a_client();
  await page.first_section_on(zone_now(zone));
  const [before] = page.starts_of(service);
  expect(before?.bowl).toEqual({
    parts: [{ product: "p1", line: "Cobble", name: "8 violet", grams: 21, batch: "K4407" }],
    developer: { percent: 3, grams: 42 },
  });
  expect(before?.answers?.find(({ fact }) => fact === "colour_reaction")).toMatchObject({
    value: "none",
    at: "2026-12-01T09:00:00Z",
  });
  await page.change("client", client, { name: "Ona Other", colour_reaction: "severe" });
  await page.change("zone", zone, { mix: { ...MIX, minutes: 9 } });
  expect(page.starts_of(service)).toEqual([before]);
  const now = page.answers_now(page.one("service", service).value as never);
  expect(now.find(({ fact }) => fact === "colour_reaction")?.value).toBe("severe");
});

test("the plan's colour and the rinsed minute's have each a name, one source for all pages", async () => {
  const colour = (words: string, light: number) =>
    ({ words, lab: [light, 2, 20], hex: "#b0a080" }) as Colour;
  const { service, zone } = await visit_of_a_client();
  await page.change("zone", zone, { predicted: colour("level 9, beige", 70) });
  const said = () => {
    const { label, colour } = page.foretold(zone_now(zone)) ?? {};
    return [label, colour?.words];
  };
  const plan = ["foretold dry as planned", "level 9, beige"];
  expect(said()).toEqual(plan);
  await page.first_section_on(zone_now(zone));
  expect(said()).toEqual(plan);
  const [clock] = page.running.value;
  if (!clock) throw new Error("the zone runs");
  // Without a strip nobody knows the minute's colour: the plan's keeps its own name.
  await page.rinsed(clock);
  expect(said()).toEqual(plan);
  await page.change("zone", zone, { predicted: colour("level 9, pearl", 71) });
  expect(said()).toEqual(["foretold dry as rinsed", "level 9, pearl"]);
  const [told] = page.whole_history(page.one("service", service).value?.client ?? "");
  expect(told?.words ?? "").toContain("foretold dry as rinsed: level 9, pearl");
});

test("one undo takes back the clock and what was kept of its start", async () => {
  const { service, zone } = await visit_of_a_client();
  await page.first_section_on(zone_now(zone));
  await page.undo();
  expect(page.starts_of(service)).toEqual([]);
  await page.first_section_on(zone_now(zone));
  expect(page.starts_of(service)).toHaveLength(1);
});

test("of a visit that kept no start only what was answered by then is known", async () => {
  const client = await page.create("client", {
    name: "Ona Fictive",
    colour_reaction: "mild",
    answers: {
      asthma: said("no", "2026-12-01T09:00:00Z"),
      colour_reaction: said("mild", "2027-01-12T09:00:00Z"),
    },
  });
  const service = await page.plan_service(client, "2026-12-01T10:00:00Z");
  const at_ms = Date.parse("2026-12-01T10:05:00Z");
  const known = page.answers_until(page.one("service", service).value as never, at_ms);
  expect(known.map(({ fact, value }) => [fact, value])).toEqual([["asthma", "no"]]);
});

test("a visit that never began says why, as it was held or as somebody wrote", async () => {
  const client = await page.create("client", { name: "Ona Fictive" });
  const service = await page.plan_service(client, "2026-12-01T10:00:00Z");
  const words = (at: string) =>
    page.standing_words(page.one("service", service).value as never, Date.parse(at));
  expect(words("2026-12-01T10:30:00Z")).toBe("planned");
  expect(words("2026-12-02T10:00:00Z")).toBe("not done, no reason kept");
  await page.note_held(service, [{ id: "test-missing", message: "No alert test on record." }]);
  expect(words("2026-12-02T10:00:00Z")).toBe("not done, held: no alert test on record");
  await page.put_not_done(service, "did not come");
  expect(words("2026-12-02T10:00:00Z")).toBe("not done: did not come");
  const held = page.one("service", service).value?.held;
  expect(Date.parse(held?.at ?? "")).toBeGreaterThan(Date.now() - DAY_MS);
});
