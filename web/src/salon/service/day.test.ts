import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { expect, test, vi } from "vitest";

async function open_page() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const read = await import("../../records/read");
  const write = await import("../../records/write");
  const day = await import("./day");
  await read.open_records();
  return { ...read, ...write, ...day };
}

const at = (day: number, hour: number, minute: number) =>
  new Date(2026, 10, day, hour, minute).getTime();
const written = (ms: number) => new Date(ms).toISOString();

test("the evening's visits are listed after midnight until four hours after their rinse", async () => {
  const page = await open_page();
  const client = await page.create("client", { name: "Ona Fictive" });
  const put = async (planned_ms: number, state: string, rinsed_ms?: number) => {
    const planned_at = written(planned_ms);
    const service = await page.create("service", { client, planned_at, state } as never);
    await page.create("zone", {
      service,
      name: "all over",
      first_section_at: planned_at,
      last_section_at: planned_at,
      window: { min: 5, max: 20 },
      ...(rinsed_ms && { rinsed_at: written(rinsed_ms) }),
    } as never);
    return service;
  };
  const early = await put(at(28, 13, 0), "ended", at(28, 14, 30));
  const long = await put(at(28, 19, 0), "ended", at(28, 23, 30));
  const waits = await put(at(28, 20, 0), "started", at(28, 21, 0));
  const runs = await put(at(28, 23, 50), "started");
  const next = await put(at(29, 9, 0), "planned");
  const listed = (ms: number) => page.listed_on("2026-11-29", ms).map(({ id }) => id);
  expect(listed(at(29, 0, 10))).toEqual([long, waits, runs, next]);
  expect(listed(at(29, 3, 29))).toEqual([long, waits, runs, next]);
  expect(listed(at(29, 3, 31))).toEqual([waits, runs, next]);
  expect(listed(at(29, 8, 0))).toEqual([runs, next]);
  expect(page.services_on("2026-11-28").map(({ id }) => id)).toEqual([early, long, waits, runs]);
  page.close_records();
});
