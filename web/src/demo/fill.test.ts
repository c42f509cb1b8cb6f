// The demo day is written into a store of its own, as the acts of any page are.

import { IDBFactory } from "fake-indexeddb";
import { openDB } from "idb";
import "fake-indexeddb/auto";
import { beforeEach, expect, test, vi } from "vitest";
import { rfc3339 } from "../device/when";

const OPENED_MS = Date.UTC(2026, 10, 28, 11, 37);

function storage(start: Record<string, string> = {}) {
  const held = new Map(Object.entries(start));
  return {
    getItem: (key: string) => held.get(key) ?? null,
    setItem: (key: string, value: string) => void held.set(key, value),
    removeItem: (key: string) => void held.delete(key),
  };
}

/** The page's own modules, loaded again, as a reload does. */
async function open_page(demo: boolean) {
  vi.resetModules();
  const open = { "basinside.world.demo": String(OPENED_MS) };
  vi.stubGlobal("sessionStorage", storage(demo ? open : {}));
  vi.stubGlobal("localStorage", storage());
  const [{ demo_day, fill }, read, write] = await Promise.all([
    import("./fill"),
    import("../records/read"),
    import("../records/write"),
  ]);
  const { invented } = await import("../salon/invented");
  const { services_on, still_on } = await import("../salon/service/day");
  return { demo_day, fill, invented, services_on, still_on, ...read, ...write };
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

test("every record of the day shows, by who wrote it and when", async () => {
  const page = await open_page(true);
  const day = await page.demo_day();
  await page.fill(day, OPENED_MS);
  await page.open_records();
  for (const { records } of day.acts) {
    for (const { kind, id } of records) expect(page.one(kind, id).value?.id).toBe(id);
  }
  expect(page.all("client").value).toHaveLength(8);
  const made = page.all("client").value.map(({ created_at }) => Date.parse(created_at));
  expect(Math.max(...made)).toBeLessThan(OPENED_MS - 19 * 24 * 3_600_000);
  const authors = new Set(page.all("note").value.map(({ by }) => by));
  expect(authors.size).toBe(2);
  expect(page.everything_to_look_at.value).toEqual([]);
  expect(page.author_here.value).toBe(day.writer);
});

test("its operations are those that the page's own acts make", async () => {
  const page = await open_page(true);
  const day = await page.demo_day();
  const written = await page.fill(day, OPENED_MS);
  const { with_moments } = await import("./times");
  globalThis.indexedDB = new IDBFactory();
  const other = await open_page(true);
  const { written_after } = await import("../outbox/operations");
  await other.open_records();
  for (const { records } of day.acts) {
    const changes = records.map(({ kind, id, fields }) => ({
      ...{ do: "create" as const, kind, id },
      fields: with_moments(fields, OPENED_MS),
    }));
    await other.together(changes, null);
  }
  const content = ({ kind, entity_id, fields, base, from }: (typeof written)[number]) => ({
    ...{ kind, entity_id, fields, base, from },
  });
  const by_record = (a: { entity_id: string; kind: string }, b: typeof a) =>
    `${a.entity_id} ${a.kind}` < `${b.entity_id} ${b.kind}` ? -1 : 1;
  const acted = await written_after(0);
  expect(written.map(content).sort(by_record)).toEqual(acted.map(content).sort(by_record));
  expect(written.map(({ device_seq }) => device_seq)).toEqual(written.map((_, at) => at + 1));
  expect(written.map(({ hlc }) => hlc)).toEqual(written.map(({ hlc }) => hlc).sort());
});

test("it is never written beside real records, and leaves their store alone", async () => {
  const own = await open_page(false);
  await own.create("client", { name: "Real" });
  await expect(own.fill(await own.demo_day(), OPENED_MS)).rejects.toThrow("never");
  const before = await rows("basinside");
  const demo = await open_page(true);
  await demo.fill(await demo.demo_day(), OPENED_MS);
  await demo.open_records();
  expect(demo.all("client").value.map(({ name }) => name)).not.toContain("Real");
  await demo.create("client", { name: "Tried out" });
  expect(await rows("basinside")).toEqual(before);
  const again = await open_page(false);
  await again.open_records();
  expect(again.all("client").value.map(({ name }) => name)).toEqual(["Real"]);
});

async function rows(name: string) {
  const opened = await openDB(name);
  const stores = [...opened.objectStoreNames];
  const all = await Promise.all(stores.map(async (store) => [store, await opened.getAll(store)]));
  opened.close();
  return all;
}

test("a desk that holds the day's records says on every screen that they are invented", async () => {
  const page = await open_page(false);
  await page.open_records();
  expect(page.invented.value).toBe(false);
  const { acts, writer } = await page.demo_day();
  const owner = acts.flatMap(({ records }) => records).find(({ id }) => id === writer);
  expect(owner?.kind).toBe("person");
  const fields = { name: "the owner" };
  await page.together([{ do: "create", kind: "person", id: writer, fields }], null);
  expect(page.invented.value).toBe(true);
});

test("at any hour the list of the day is the demo's whole Saturday, the finished visit too", async () => {
  for (const [hour, minute] of [
    [0, 4],
    [2, 59],
    [3, 20],
    [12, 30],
    [22, 10],
    [23, 58],
  ] as const) {
    const opened = new Date(2026, 10, 28, hour, minute);
    const page = await open_page(true);
    globalThis.indexedDB = new IDBFactory();
    await page.fill(await page.demo_day(), opened.getTime());
    await page.open_records();
    const day = rfc3339(opened.getTime()).slice(0, 10);
    const listed = [...page.still_on(day, opened.getTime()), ...page.services_on(day)];
    expect(new Set(listed).size, `${hour}:${minute}`).toBe(7);
    page.close_records();
  }
});
