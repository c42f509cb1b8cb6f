// What is tried out is in the strict store when a service is laid over it; on a store in memory.
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { beforeEach, expect, test, vi } from "vitest";

function simple_storage() {
  const held = new Map<string, string>();
  return {
    getItem: (key: string) => held.get(key) ?? null,
    setItem: (key: string, value: string) => void held.set(key, value),
    /** Goes back to what it held, as a killed browser does that had not written the rest yet. */
    forget_since: (then: ReadonlyMap<string, string>) => {
      held.clear();
      for (const [key, value] of then) held.set(key, value);
    },
    now: () => new Map(held),
  };
}

let storage: ReturnType<typeof simple_storage>;

/** The page's own modules, loaded again, as a new start of the browser does. */
async function open_page(records_first = false) {
  vi.resetModules();
  vi.stubGlobal("sessionStorage", simple_storage());
  const [bench, entries, typed, drafts] = await Promise.all([
    import("./bench"),
    import("./entries"),
    import("../device/typed"),
    import("../outbox/drafts"),
  ]);
  if (records_first) await (await import("../records/read")).open_records();
  bench.watch_bench();
  const opened = typed.open_typed();
  const type = (l: string) => {
    const { hair_entry } = entries;
    const { reading } = hair_entry.peek();
    const lab: [string, string, string] = [l, "", ""];
    hair_entry.value = { ...hair_entry.peek(), reading: { ...reading, lab } };
  };
  const mix_more = () => {
    entries.amounts.value = { ...entries.amounts.peek(), total_g: 90 };
  };
  const typed_here = () => entries.hair_entry.peek().reading.lab[0];
  const written = () => drafts.put_draft("last", undefined);
  return { ...bench, opened, type, mix_more, typed_here, written };
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  storage = simple_storage();
  vi.stubGlobal("localStorage", storage);
  vi.stubGlobal("addEventListener", () => undefined);
});

test("what is tried out outlives a service that is laid over it, and a kill", async () => {
  const page = await open_page();
  await page.opened;
  page.type("31.5");
  const before = storage.now();
  page.type("62.5");
  await page.lay_out("zone-1", "hair");
  expect(page.typed_here()).toBe("");
  page.mix_more();
  await page.written();
  storage.forget_since(before);
  const again = await open_page();
  await again.lay_out("", "hair");
  expect(again.typed_here()).toBe("62.5");
});

test("an old start of the page lays nothing out over what the strict store brings", async () => {
  const page = await open_page();
  await page.opened;
  await page.lay_out("zone-1", "hair");
  const in_the_service = storage.now();
  await page.lay_out("", "hair");
  page.type("62.5");
  await page.written();
  storage.forget_since(in_the_service);
  const again = await open_page();
  await again.lay_out("", "hair");
  expect(again.typed_here()).toBe("62.5");
  await again.written();
  expect((await open_page()).bench_zone.peek()).toBe("");
});

test("a record that is older than what was typed last is not laid out over it", async () => {
  vi.resetModules();
  const { create } = await import("../records/write");
  const service = await create("service", { purpose: "client", state: "planned" });
  const zone = await create("zone", { service, name: "all over" });
  const page = await open_page();
  const { open_records } = await import("../records/read");
  await Promise.all([page.opened, open_records()]);
  await page.lay_out(zone, "hair");
  page.type("55.5");
  await page.put_away();
  const two_behind = storage.now();
  page.type("56.5");
  await page.put_away();
  page.type("57.5");
  await page.written();
  storage.forget_since(two_behind);
  const again = await open_page(true);
  await again.opened;
  expect(again.typed_here()).toBe("57.5");
});

test("a window that typed nothing does not put its try-out over another window's", async () => {
  const here = await open_page();
  await here.opened;
  const there = await open_page();
  await there.opened;
  there.type("62.5");
  await here.put_away();
  await here.lay_out("zone-1", "hair");
  await here.lay_out("", "hair");
  expect(here.typed_here()).toBe("62.5");
});

test("a try-out asked for first is not laid under a service that was gone back to", async () => {
  const page = await open_page();
  await page.opened;
  const read = await import("../records/read");
  const write = await import("../records/write");
  await read.open_records();
  const zone = await write.create("zone", { name: "all over" });
  await page.lay_out(zone, "hair");
  page.type("44");
  // Storing what was entered for the zone takes a while; the way back is asked for meanwhile.
  await Promise.all([page.lay_out("", "hair"), page.lay_out(zone, "hair")]);
  expect(page.bench_zone.peek()).toBe(zone);
  expect(page.typed_here()).toBe("44");
  read.close_records();
});
