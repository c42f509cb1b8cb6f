// A service keeps the window of its zones itself. Records are really kept, and the answers come
// from a server on this machine; its numbers are chosen here to be told apart.
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test, vi } from "vitest";

async function open_page() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const page = {
    ...(await import("../records/read")),
    ...(await import("../records/write")),
    ...(await import("../salon/service/begin")),
    ...(await import("../salon/service/services")),
    ...(await import("./everywhere")),
    ...(await import("./held")),
    ...(await import("./watch")),
    take_in: (await import("../records/read")).take,
  };
  await page.open_records();
  ends.push(page.watch_everywhere());
  return page;
}

const PEARL = { id: "p", name: "pearl", line: "Still", class: "neutral_demi", level: 9 };
const TAKEN = { earliest: 3, best: 6, latest: 9 };
const JUDGED = { earliest: 5, best: 8, latest: 12 };
const HAIR = { level: 9, warmth: 1.2 };
const ends: (() => void)[] = [];

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
      looks_heard = JSON.parse(text).readings?.length ?? 0;
      const advice = { do: "look_again", at_minute: 7, words: "" };
      const judged = { hair: HAIR, strip: [], window: JUDGED, advice, surprise: null };
      response.writeHead(200, { "content-type": "application/json" });
      response.end(JSON.stringify(looks_heard ? judged : { strip: [], window: TAKEN }));
    });
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const { port } = server.address() as AddressInfo;
  globalThis.fetch = (path, init) => page_fetch(`http://127.0.0.1:${port}${path}`, init);
  page = await open_page();
  zone_id = await zone_on();
});

afterEach(async () => {
  for (const end of ends.splice(0)) end();
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
/** Waits for what would follow from an answer. */
const settled = () => new Promise((later) => setTimeout(later, 60));
const service_of = () => page.one("zone", zone_id).peek()?.service ?? "";

test("a look gives the clock its minutes, whichever screen is open", async () => {
  await looked();
  await until(() => expect(window_kept()).toEqual(JUDGED));
  expect(page.one("zone", zone_id).peek()?.look_again_min).toBe(7);
});

test("another phone's look is kept by that phone, and here once the service is open", async () => {
  page.take_in([looked_elsewhere()]);
  await settled();
  expect(window_kept()).toEqual(TAKEN);
  ends.push(page.watch_predictions(service_of()));
  await until(() => expect(window_kept()).toEqual(JUDGED));
});

test("a rinsed zone keeps the window it was rinsed by", async () => {
  ends.push(page.watch_predictions(service_of()));
  await until(() => expect(page.held(zone_id).state).toBe("settled"));
  await page.change("zone", zone_id, { rinsed_at: "2026-11-25T10:10:00Z" }, null);
  await looked();
  await until(() => expect(looks_heard).toBe(1));
  await settled();
  expect(window_kept()).toEqual(TAKEN);
});

test("a look that is taken back gives the clock the minutes from before it", async () => {
  ends.push(page.watch_predictions(service_of()));
  const look = await looked();
  await until(() => expect(window_kept()).toEqual(JUDGED));
  await page.remove("reading", look);
  await until(() => expect(window_kept()).toEqual(TAKEN));
  expect(page.one("zone", zone_id).peek()?.look_again_min).toBeUndefined();
});

test("without a server a look is kept and says that it waits; the minutes stay", async () => {
  ends.push(page.watch_predictions(service_of()));
  await until(() => expect(page.held(zone_id).state).toBe("settled"));
  const there = globalThis.fetch;
  globalThis.fetch = () => Promise.reject(new TypeError("no way"));
  await looked();
  await until(() => expect(page.held(zone_id).state).toBe("failed"));
  const zone = page.one("zone", zone_id).peek();
  expect(zone && page.to_be_judged(zone)).toHaveLength(1);
  expect(window_kept()).toEqual(TAKEN);
  globalThis.fetch = there;
  page.try_again();
  await until(() => expect(window_kept()).toEqual(JUDGED));
});
