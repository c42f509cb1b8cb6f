import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test, vi } from "vitest";

let page: EventTarget;
/** The page's own modules, on a page whose address and touches are ours. */
async function open_page() {
  vi.resetModules();
  page = new EventTarget();
  vi.stubGlobal("location", { hash: "#/today", pathname: "/" });
  vi.stubGlobal("addEventListener", page.addEventListener.bind(page));
  globalThis.indexedDB = new IDBFactory();
  const [place, acts, { watch_acts_here }] = await Promise.all([
    import("./place"),
    import("./records/acts"),
    import("./act_here"),
  ]);
  watch_acts_here();
  const say = (id: string) => {
    const act = { id, at_ms: 0, said: `${id}.`, operations: [], before: new Map() };
    acts.put_act(act);
    acts.speak_of(act);
  };
  return { ...place, ...acts, say };
}

/** A link, or the phone's way back: the browser says so once the address is another. */
function arrive(hash = location.hash): void {
  location.hash = hash;
  page.dispatchEvent(new Event("hashchange"));
}

let here: Awaited<ReturnType<typeof open_page>>;
beforeEach(async () => {
  here = await open_page();
  page.dispatchEvent(new Event("pointerdown"));
  here.say("Planned Wren");
});
afterEach(() => {
  here.let_act_be();
  vi.unstubAllGlobals();
});

test("an act that leads to another screen is undone there, and no further", () => {
  here.go("service", "wren");
  arrive();
  expect(here.place.value.name).toBe("service");
  expect(here.last_act.value?.words).toBe("Planned Wren.");
  page.dispatchEvent(new Event("pointerdown"));
  arrive("#/clients");
  expect(here.last_act.value).toBeNull();
  expect(here.day_acts.value).toHaveLength(1);
});

test("a tap that leads on ends it, as does the phone's way back", () => {
  page.dispatchEvent(new Event("click"));
  here.go("try");
  arrive();
  expect(here.last_act.value).toBeNull();
  here.say("Named the salon");
  arrive("#/today");
  expect(here.last_act.value).toBeNull();
});

test("another day is the same screen", () => {
  page.dispatchEvent(new Event("pointerdown"));
  arrive("#/today/2026-12-02");
  expect(here.last_act.value?.words).toBe("Planned Wren.");
});
