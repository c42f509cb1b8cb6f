// The page's own code for a service, loaded as a page that is opened loads it.
import { IDBFactory } from "fake-indexeddb";
import { vi } from "vitest";

export type Page = Awaited<ReturnType<typeof open_page>>;

/** Loads the page's own modules afresh, on an empty store. */
export async function open_page() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const page = {
    ...(await import("../../src/records/read")),
    ...(await import("../../src/records/write")),
    ...(await import("../../src/salon/service/services")),
    ...(await import("../../src/salon/service/begin")),
    ...(await import("../../src/salon/service/running")),
    ...(await import("../../src/salon/service/moments")),
    ...(await import("../../src/salon/service/looks")),
    ...(await import("../../src/salon/service/readings")),
    ...(await import("../../src/salon/service/start")),
    ...(await import("../../src/salon/service/weighed")),
    ...(await import("../../src/salon/service/wrong_tube")),
    ...(await import("../../src/shelf/shelf")),
    ...(await import("../../src/salon/formulas")),
    ...(await import("../../src/prediction/held")),
    ...(await import("../../src/prediction/live")),
    ...(await import("../../src/prediction/watch")),
    ...(await import("../../src/screens/judge/actions")),
  };
  await page.open_records();
  return page;
}
