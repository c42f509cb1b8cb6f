// What is typed or set is in the strict store, on a store in memory; tests/faults kills a browser.
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { beforeEach, expect, test, vi } from "vitest";

/** The browser's simple storage; `forget` is what a killed browser had not written yet. */
function simple_storage(start: Record<string, string> = {}) {
  const held = new Map(Object.entries(start));
  return {
    getItem: (key: string) => held.get(key) ?? null,
    setItem: (key: string, value: string) => void held.set(key, value),
    forget: () => held.clear(),
    names: () => [...held.keys()],
  };
}

let storage: ReturnType<typeof simple_storage>;

/** The page's own modules, loaded again, as a reload does. */
async function open_page() {
  vi.resetModules();
  const [typed, kept, drafts] = await Promise.all([
    import("./typed"),
    import("./kept"),
    import("../outbox/drafts"),
  ]);
  const settings = kept.kept("settings", { profile: "other" });
  await typed.open_typed();
  // Resolves once all that waits is in the store.
  const written = () => drafts.put_draft("last", undefined);
  return { ...typed, ...kept, ...drafts, settings, written };
}

const NOTHING = { signs: [] as string[], text: "" };

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  storage = simple_storage();
  vi.stubGlobal("localStorage", storage);
  vi.stubGlobal("sessionStorage", simple_storage());
});

test("a half-filled form is there again after a reload, without the simple storage", async () => {
  const page = await open_page();
  page.put_typed("reaction", "visit-1", { signs: ["itch"], text: "left ear" }, NOTHING);
  await page.written();
  storage.forget();
  const again = await open_page();
  expect(again.is_typed("reaction", "visit-1")).toBe(true);
  expect((await again.all_drafts()).get("form/reaction/visit-1")).toContain("left ear");
  expect(again.is_typed("reaction", "visit-2")).toBe(false);
});

test("a form that a record holds now, or that is empty again, is in no store", async () => {
  const page = await open_page();
  page.put_typed("reaction", "visit-1", { signs: ["itch"], text: "" }, NOTHING);
  page.put_typed("reaction", "visit-2", { signs: ["itch"], text: "" }, NOTHING);
  page.forget_typed("reaction", "visit-1");
  page.put_typed("reaction", "visit-2", NOTHING, NOTHING);
  await page.written();
  expect((await page.all_drafts()).size).toBe(0);
});

test("the last of many keys is what the store has", async () => {
  const page = await open_page();
  const words = "Took as expected.";
  for (let end = 1; end <= words.length; end++) {
    page.put_typed("note", "client-1", words.slice(0, end), "");
  }
  await vi.waitFor(async () =>
    expect((await page.all_drafts()).get("form/note/client-1")).toBe(JSON.stringify(words)),
  );
});

test("what is typed before the store was read goes before what the store holds", async () => {
  const page = await open_page();
  page.put_typed("note", "client-1", "old", "");
  await page.written();
  vi.resetModules();
  const typed = await import("./typed");
  typed.put_typed("note", "client-1", "new", "");
  await typed.open_typed();
  const { all_drafts } = await import("../outbox/drafts");
  expect((await all_drafts()).get("form/note/client-1")).toBe('"new"');
});

test("every form about an erased record is emptied, and no other", async () => {
  const page = await open_page();
  page.put_typed("note", "client-1", "cooler than she says", "");
  page.put_typed("paper_test", "client-1", { signs: ["x"], text: "" }, NOTHING);
  page.put_typed("note", "client-2", "stays", "");
  page.forget_typed_about(new Set(["client-1"]));
  await page.written();
  expect([...(await page.all_drafts()).keys()]).toEqual(["form/note/client-2"]);
});

test("a form that may name anybody is emptied with any erased record, and no other", async () => {
  const page = await open_page();
  page.put_typed("a list", page.ANYBODY, ["Wren"], []);
  page.put_typed("a list", "", ["of nobody"], []);
  page.put_typed("anybody", "client-2", "stays", "");
  page.forget_typed_about(new Set(["client-1"]));
  await page.written();
  const left = [...(await page.all_drafts()).keys()].sort();
  expect(left).toEqual(["form/a list/", "form/anybody/client-2"]);
  expect(left.filter(page.may_name_anybody)).toEqual([]);
  expect(page.may_name_anybody(`form/a list/${page.ANYBODY}`)).toBe(true);
});

test("a day's file half taken in the version before is taken over, under its mark", async () => {
  const before = await open_page();
  await before.put_draft("form/day_file/", '{"appointments":[]}');
  const page = await open_page();
  expect(page.typed_of("day_file", page.ANYBODY)).toEqual({ appointments: [] });
  expect(page.is_typed("day_file", "")).toBe(false);
  await page.written();
  const kept = await page.all_drafts();
  expect([...kept]).toEqual([["form/day_file/anybody", '{"appointments":[]}']]);
});

test("notes half typed in the version before are taken over", async () => {
  storage.setItem("basinside.1.note_drafts", JSON.stringify([{ about: "client-1", text: "half" }]));
  const page = await open_page();
  expect(page.is_typed("note", "client-1")).toBe(true);
});

test("a setting survives a browser that had not written its simple storage", async () => {
  const page = await open_page();
  page.settings.value = { profile: "uk" };
  await page.written();
  storage.forget();
  const again = await open_page();
  expect(again.settings.value).toEqual({ profile: "uk" });
});

test("the newer of the two stores holds, even where the clock was set back", async () => {
  const page = await open_page();
  const now = vi.spyOn(Date, "now").mockReturnValue(2_000_000);
  page.settings.value = { profile: "uk" };
  now.mockReturnValue(1_000_000);
  page.settings.value = { profile: "us" };
  now.mockRestore();
  await page.written();
  expect((await open_page()).settings.value).toEqual({ profile: "us" });
});

test("a damaged row of the store gives way to what the simple storage has", async () => {
  const page = await open_page();
  page.settings.value = { profile: "uk" };
  await page.put_draft("kept/settings", "{cut of");
  await page.put_draft("form/note/client-1", "{cut of");
  const again = await open_page();
  expect(again.settings.value).toEqual({ profile: "uk" });
});

test("an erasure empties the form that another window holds half filled", async () => {
  const here = await open_page();
  const there = await open_page();
  for (const about of ["client-1", "client-2", there.ANYBODY]) {
    there.put_typed("reaction", about, { signs: [], text: "left ear" }, NOTHING);
  }
  await there.written();
  here.erase_typed_about(new Set(["client-1"]));
  await vi.waitFor(() => {
    expect(there.is_typed("reaction", "client-1")).toBe(false);
    expect(there.is_typed("reaction", there.ANYBODY)).toBe(false);
  });
  expect(there.typed_of("reaction", "client-2")).toEqual({ signs: [], text: "left ear" });
  await there.written();
  expect([...(await there.all_drafts()).keys()]).toEqual(["form/reaction/client-2"]);
});
