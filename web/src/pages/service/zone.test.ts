// Which section of a zone is open, while the zone is still being laid out; on a store in memory.
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { beforeEach, expect, test, vi } from "vitest";

/** Loads the page's own modules on an empty phone. It gets two visits with a zone each. */
async function open_page() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const read = await import("../../records/read");
  const services = await import("../../salon/service/services");
  const shown = await import("./zone");
  const typed = await import("../../device/typed");
  await read.open_records();
  await typed.open_typed();
  const { wish_entry } = await import("../../bench/entries");
  const planned = async () => {
    const service = await services.plan_service("", "2026-11-30T10:00:00Z");
    const [zone] = services.zones_of(service);
    if (!zone) throw new Error("a planned service has a zone");
    return zone;
  };
  const [zone, another] = [await planned(), await planned()];
  return { ...read, ...shown, wish_entry, zone, another };
}

let page: Awaited<ReturnType<typeof open_page>>;

beforeEach(async () => {
  page = await open_page();
});

test("a zone is laid out where it has come to", async () => {
  await page.lay_out_zone(page.zone);
  expect(page.section_shown(page.zone)).toBe("wish");
  page.close_records();
});

test.each([
  ["before", ["open_in", "lay_out_zone"]],
  ["after", ["lay_out_zone", "open_in"]],
] as const)("a section tapped %s the laying out begins stays open", async (_, acts) => {
  // What was entered for another visit is stored first, and that takes a while.
  await page.lay_out_zone(page.another);
  page.wish_entry.value = { ...page.wish_entry.peek(), tone: ["pearl"] };
  const done = acts.map((act) =>
    act === "open_in" ? page.open_in(page.zone, "safety") : page.lay_out_zone(page.zone),
  );
  await Promise.all(done);
  expect(page.section_shown(page.zone)).toBe("safety");
  // And it stays so when the page shows the zone again.
  await page.lay_out_zone(page.zone);
  expect(page.section_shown(page.zone)).toBe("safety");
  page.close_records();
});
