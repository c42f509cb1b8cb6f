// The window of a judged zone is kept by the service itself. Records are really kept, and the
// judgements come from a server on this machine; its numbers are chosen here to be told apart.
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test, vi } from "vitest";

async function open_page() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const page = {
    ...(await import("../../records/read")),
    ...(await import("../../records/write")),
    ...(await import("../../bench/bench")),
    ...(await import("../../bench/chosen")),
    ...(await import("./services")),
    ...(await import("./judged")),
    take_in: (await import("../../records/read")).take,
  };
  await page.open_records();
  page.watch_judged();
  return page;
}

const PEARL = { id: "p", name: "pearl", line: "Still", class: "neutral_demi", level: 9 };
const TAKEN = { earliest: 3, latest: 9, best: 6, is_short: false };
const JUDGED = { earliest: 5, latest: 12, best: 8, is_short: false };
const HAIR = { level: 9, warmth: 1.2 };

const page_fetch = globalThis.fetch;
let page: Awaited<ReturnType<typeof open_page>>;
let server: Server;
let looks_heard: number;
let zone_id: string;

beforeEach(async () => {
  looks_heard = 0;
  server = createServer((request, response) => {
    let text = "";
    request.on("data", (piece) => {
      text += piece;
    });
    request.on("end", () => {
      looks_heard = JSON.parse(text).readings.length;
      response.writeHead(200, { "content-type": "application/json" });
      response.end(JSON.stringify({ hair: HAIR, window: JUDGED, engine_version: "1" }));
    });
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const { port } = server.address() as AddressInfo;
  globalThis.fetch = (path, init) => page_fetch(`http://127.0.0.1:${port}${path}`, init);
  page = await open_page();
  zone_id = await zone_on();
});

afterEach(async () => {
  page.close_records();
  globalThis.fetch = page_fetch;
  server.closeAllConnections();
  await new Promise((closed) => server.close(closed));
});

/** A zone whose first section has its mix; returns its id. */
async function zone_on(): Promise<string> {
  const service = await page.plan_for_new_client("Ona Petrel", "2026-11-25T10:00:00Z");
  const [zone] = page.zones_of(service);
  if (!zone) throw new Error("no zone");
  await page.change(
    "zone",
    zone.id,
    {
      hair: { level: 8 },
      wish: { level: 9, tone: ["pearl"] },
      mix: { parts: [{ product: "p", grams: 40 }], minutes: 9 },
      products: [
        { ...PEARL, tone: ["pearl"], developer_percent: [1.9], window: { min: 3, max: 20 } },
      ],
      window: TAKEN,
      most_minutes: 20,
    } as never,
    null,
  );
  const taken = page.one("zone", zone.id).peek();
  if (taken) await page.first_section_on(taken);
  return zone.id;
}

const window_kept = () => page.one("zone", zone_id).peek()?.window;
const looked = () =>
  page.create("reading", {
    ...{ zone: zone_id, at: "2026-11-25T10:06:00Z", minute: 6 },
    ...{ where: "wiped", source: "eye", words: "yellower" },
  });
type Operation = Parameters<typeof page.take_in>[0][number];
const ELSEWHERE = "01900000-0000-7000-8000-00000000000b";
/** The same look as an operation of another phone. */
const looked_elsewhere = (): Operation => ({
  ...{ op_id: page.new_id(), device_seq: 1, entity_id: page.new_id(), by: ELSEWHERE, schema: 1 },
  ...{ hlc: `2026-11-25T10:06:00.000Z-0000-${ELSEWHERE}`, kind: "reading.create" },
  fields: { zone: zone_id, minute: 6, where: "wiped", source: "eye", words: "yellower" },
});
const until = (holds: () => void) => vi.waitFor(holds, { timeout: 20_000, interval: 5 });
/** Waits for the answer to so many looks, and for what would follow from it. */
async function answered(looks: number): Promise<void> {
  await until(() => expect(looks_heard).toBe(looks));
  await until(() => expect(page.judgement_at(zone_id).asked.peek().state).toBe("answered"));
  await new Promise((later) => setTimeout(later, 30));
}

test("a look gives the clock its window, wherever the page is", async () => {
  expect(page.bench_zone.peek()).toBe("");
  await looked();
  await until(() => expect(window_kept()).toEqual(JUDGED));
});

test("another phone's look is kept by that phone, and here once the zone is laid out", async () => {
  page.take_in([looked_elsewhere()]);
  await answered(1);
  expect(window_kept()).toEqual(TAKEN);
  await page.lay_out(zone_id, "strip");
  expect(page.judged_hair.peek()).toEqual({ zone: zone_id, hair: HAIR });
  await until(() => expect(window_kept()).toEqual(JUDGED));
});

test("a rinsed zone keeps the window it was rinsed by", async () => {
  await page.lay_out(zone_id, "strip");
  await page.change("zone", zone_id, { rinsed_at: "2026-11-25T10:10:00Z" }, null);
  await looked();
  await answered(1);
  expect(window_kept()).toEqual(TAKEN);
});

test("a look that is taken back leaves the hair as it was entered", async () => {
  await page.lay_out(zone_id, "strip");
  const look = await looked();
  await until(() => expect(page.judged_hair.peek()?.zone).toBe(zone_id));
  await page.remove("reading", look);
  expect(page.judged_hair.peek()).toBeNull();
});
