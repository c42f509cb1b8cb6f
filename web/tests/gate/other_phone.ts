// The page's own modules as a phone opens them, and the file of a phone whose colourist started a
// service that the rules held: she answered nothing, and tapped past the gate.
import { IDBFactory } from "fake-indexeddb";
import { vi } from "vitest";
import type { Product } from "../../src/api/shapes";

const MIX = { parts: [{ product: "p1", grams: 30 }], minutes: 10 };
const WINDOW = { earliest: 5, best: 10, latest: 20 };

/** Loads the page's own modules again, as a page that is opened does, on an empty store. */
export async function open_page() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const page = {
    ...(await import("../../src/records/read")),
    ...(await import("../../src/records/write")),
    ...(await import("../../src/records/files/in")),
    ...(await import("../../src/records/files/out")),
    ...(await import("../../src/salon/service/services")),
    ...(await import("../../src/salon/service/zone_acts")),
    ...(await import("../../src/salon/service/begin")),
    ...(await import("../../src/gate/answer")),
    ...(await import("../../src/gate/clients")),
    ...(await import("../../src/gate/held")),
    ...(await import("../../src/salon/alert_tests/from_paper")),
    ...(await import("../../src/gate/review")),
    ...(await import("../../src/gate/state")),
    running: (await import("../../src/salon/service/running")).running,
  };
  await page.open_records();
  return page;
}

/** Returns what is mixed of a line for a zone, as the fields of its record. */
export function mixed_of(line: string, percent: number) {
  const product = { id: "p1", name: `${line} 9`, line, class: "neutral_demi", level: 9 };
  const more = { tone: ["pearl"], developer_percent: [percent], window: { min: 5, max: 20 } };
  return {
    mix: { ...MIX, developer: { percent, grams: 30 } },
    products: [{ ...product, ...more } as Product],
    window: WINDOW,
    most_minutes: 20,
    area: "scalp" as const,
    heat: "no" as const,
  };
}

let made: Promise<{ file: File; service: string }> | undefined;

/** Returns the file of that other phone, and its service: one zone on, one still to come. */
export function held_file(): Promise<{ file: File; service: string }> {
  made ??= make_file();
  return made;
}

async function make_file(): Promise<{ file: File; service: string }> {
  const page = await open_page();
  const service = await page.plan_for_new_client("Rhea Sorrel", new Date().toISOString());
  await page.add_zone(service, "ends", undefined);
  for (const { id } of page.zones_of(service))
    await page.change("zone", id, mixed_of("Still", 1.9));
  const [first] = page.zones_of(service);
  if (!first) throw new Error("a service without a zone");
  await page.first_section_on(first);
  const file = await page.everything_as_file();
  page.close_records();
  return { file, service };
}
