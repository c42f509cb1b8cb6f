import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { effect } from "@preact/signals";
import { openDB } from "idb";
import { beforeEach, expect, test, vi } from "vitest";
import type { Operation } from "../outbox/operation";

type Window = Awaited<ReturnType<typeof open_window>>;

/** The page's own modules, loaded anew: another window, or the same one after a reload. */
async function open_window() {
  vi.resetModules();
  const read = await import("./read");
  const [write, acts] = await Promise.all([import("./write"), import("./acts")]);
  await read.open_records();
  return { ...read, ...write, ...acts };
}

async function outbox(): Promise<Operation[]> {
  const opened = await openDB("basinside");
  const operations = await opened.getAll("outbox");
  opened.close();
  return operations;
}

let phone: Window;
beforeEach(async () => {
  phone?.close_records();
  globalThis.indexedDB = new IDBFactory();
  phone = await open_window();
});

test("what was written is there after a reload, as it was", async () => {
  const client = await phone.create("client", { name: "Ona Fictive", answers: { a: at("x") } });
  await phone.change("client", client, { phone: "555", answers: { a: at("x"), b: at("y") } });
  const before = phone.one("client", client).value;
  expect(before).toMatchObject({ name: "Ona Fictive", answers: { a: at("x"), b: at("y") } });
  const reloaded = await open_window();
  expect(reloaded.one("client", client).value).toEqual(before);
  reloaded.close_records();
});

test("a new phone has its name from its first write on", async () => {
  expect(phone.device_here.peek()).toBe("");
  const client = await phone.create("client", { name: "Ona Fictive" });
  expect(phone.device_here.peek()).not.toBe("");
  expect(phone.one("client", client).value?.by).toBe(phone.device_here.peek());
});

const at = (value: string) => ({ value, at: "2026-11-25T10:00:00Z", by: "ana" });

test("operations are numbered without a hole and name what their author saw", async () => {
  const id = await phone.create("line", { name: "Still", mix_ratio: 1 });
  await Promise.all([
    phone.change("line", id, { mix_ratio: 1.5 }),
    phone.change("line", id, { mix_ratio: 2 }),
    phone.create("product", { line: id, name: "9 pearl" }),
  ]);
  const written = await outbox();
  expect(written.map(({ device_seq }) => device_seq)).toEqual([1, 2, 3, 4]);
  const [born, first, second] = written as [Operation, Operation, Operation];
  expect(first.base).toEqual({ mix_ratio: [born.op_id] });
  expect(second.base).toEqual({ mix_ratio: [first.op_id] });
  expect([...written].sort((a, b) => (a.hlc < b.hlc ? -1 : 1))).toEqual(written);
});

test("several changes of one act are kept together, or not at all", async () => {
  const id = crypto.randomUUID();
  await phone.together([
    { do: "create", kind: "service", id, fields: { purpose: "client", state: "planned" } },
    { do: "change", kind: "service", id, fields: { state: "started" } },
  ]);
  expect(phone.one("service", id).value?.state).toBe("started");
  expect(phone.one("service", id).value?.heads).toBeUndefined();
  const refused = phone.together([
    { do: "create", kind: "note", id: crypto.randomUUID(), fields: { text: "half" } },
    { do: "change", kind: "service", id, fields: { purpose: "swatch" } },
  ]);
  await expect(refused).rejects.toThrow("The purpose of a service stays as it was made");
  expect(phone.all("note").value).toEqual([]);
  expect(await outbox()).toHaveLength(2);
  expect(phone.kept_state.value).toBe("kept");
});

test("nothing is written where nothing changes", async () => {
  const id = await phone.create("client", { name: "Ona Fictive", hair: { level: 9 } });
  await phone.change("client", id, { name: "Ona Fictive", hair: { level: 9 } });
  expect(await outbox()).toHaveLength(1);
});

test("a list follows what is written, in the order the records were made", async () => {
  const seen: string[][] = [];
  const stop = effect(() => {
    seen.push(phone.all("note").value.map(({ text }) => text ?? ""));
  });
  const first = await phone.create("note", { text: "one" });
  await phone.create("note", { text: "two" });
  await phone.remove("note", first);
  stop();
  expect(seen).toEqual([[], ["one"], ["one", "two"], ["two"]]);
});

test("a setting is one record on every phone", async () => {
  await phone.set_setting("weight", "oz", "Ounces.");
  await phone.set_setting("weight", "g", "Grams.");
  expect(phone.all("setting").value).toMatchObject([{ key: "weight", value: "g" }]);
  expect(phone.all("setting").value[0]?.id).toBe(phone.setting_id("weight"));
});

test("an answer to a safety question is one, and taking back a reaction needs a decision", async () => {
  const id = await phone.create("client", { name: "Ona Fictive", colour_reaction: "none" });
  expect(phone.one("client", id).value?.colour_reaction).toBe("none");
  await phone.change("client", id, { colour_reaction: "severe" });
  const falls = phone.change("client", id, { colour_reaction: "none" });
  await expect(falls).rejects.toThrow('"severe" is on record and "none" says less');
  expect(phone.one("client", id).value?.colour_reaction).toBe("severe");
  await phone.clear("client", id, { colour_reaction: "none" }, "a letter", "tested by a doctor");
  expect(phone.one("client", id).value?.colour_reaction).toBe("none");
  expect((await outbox()).map(({ kind }) => kind)).toEqual([
    "client.create",
    "safety.answer",
    "client.set",
    "safety.clear",
  ]);
});

test("undo takes back the last act and says which, one after the other", async () => {
  const id = await phone.create("client", { name: "Ona Fictive" });
  await phone.change("client", id, { phone: "555" });
  await phone.change("client", id, { phone: "556", colour_reaction: "mild" });
  expect(phone.last_act.value?.words).toBe("Changed a client: phone, colour reaction.");
  await phone.remove("client", id);
  expect(await phone.undo()).toBe("Undone: deleted a client.");
  expect(phone.one("client", id).value?.phone).toBe("556");
  expect(await phone.undo()).toBe("Undone: changed a client: phone, colour reaction.");
  expect(phone.one("client", id).value?.phone).toBe("555");
  expect(phone.one("client", id).value?.colour_reaction).toBeUndefined();
  await phone.undo();
  expect(phone.one("client", id).value?.phone).toBeUndefined();
  expect(await phone.undo()).toBe("Undone: added a client.");
  expect(phone.all("client").value).toEqual([]);
  expect(await phone.undo()).toBeNull();
});

test("what was taken back is done again, as often as one likes", async () => {
  const id = await phone.create("client", { name: "Ona Fictive" });
  await phone.change("client", id, { phone: "555" });
  await phone.change("client", id, { phone: "556" }, "New number.");
  for (let time = 0; time < 3; time++) {
    await phone.undo();
    expect(phone.one("client", id).value?.phone).toBe("555");
    expect(phone.last_act.value).toMatchObject({ words: "New number.", state: "undone" });
    await phone.redo(phone.last_act.value?.id ?? "");
    expect(phone.one("client", id).value?.phone).toBe("556");
    expect(phone.last_act.value).toMatchObject({ words: "New number.", state: "done" });
  }
  await phone.undo();
  await phone.undo();
  expect(phone.one("client", id).value?.phone).toBeUndefined();
});

test("a visit that was worked on since is taken away only after a question", async () => {
  const id = await phone.create("service", { state: "planned" });
  const planned = phone.last_act.value?.id ?? "";
  await phone.change("service", id, { wish: { level: 9, tone: ["pearl"], tolerance: 3 } });
  expect(await phone.undo(planned)).toBeNull();
  expect(phone.last_act.value?.asks).toContain("worked on since");
  expect(phone.all("service").value).toHaveLength(1);
  expect(await phone.undo(planned, true)).toBe("Undone: added a service.");
  expect(phone.all("service").value).toEqual([]);
  await phone.redo(planned);
  expect(phone.one("service", id).value?.wish).toMatchObject({ tone: ["pearl"] });
});

test("the acts of a day are listed again after a reload, those of the day before are not", async () => {
  const id = await phone.create("client", { name: "Ona Fictive" });
  await phone.change("client", id, { phone: "555" }, "New number.");
  const again = await open_window();
  await again.open_acts(Date.now());
  expect(again.day_acts.value.map(({ said }) => said)).toEqual([undefined, "New number."]);
  await again.undo();
  expect(again.one("client", id).value?.phone).toBeUndefined();
  const tomorrow = await open_window();
  await tomorrow.open_acts(Date.now() + 86_400_000);
  expect(tomorrow.day_acts.value).toEqual([]);
});

test("an act about an erased record is in neither the list nor the store", async () => {
  const id = await phone.create("client", { name: "Ona Fictive" });
  await phone.create("service", { client: id, state: "planned" });
  await phone.create("client", { name: "Vera Fictive" });
  phone.forget_acts_about(new Set([id]));
  expect(phone.day_acts.value).toHaveLength(1);
  const again = await open_window();
  await again.open_acts(Date.now());
  expect(again.day_acts.value).toHaveLength(1);
});

test("the last act is spoken of for ten seconds", async () => {
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
  try {
    const { put_act, speak_of, last_act } = await import("./acts");
    const act = { id: "a", at_ms: 0, said: "New number.", operations: [], before: new Map() };
    put_act(act);
    speak_of(act);
    vi.advanceTimersByTime(9_999);
    expect(last_act.value?.words).toBe("New number.");
    vi.advanceTimersByTime(1);
    expect(last_act.value).toBeNull();
  } finally {
    vi.useRealTimers();
  }
});

test("two windows of one phone share one numbering and see each other's writing", async () => {
  const other = await open_window();
  const id = await phone.create("client", { name: "Ona Fictive", history: "henna" });
  await vi.waitFor(() => expect(other.one("client", id).value?.history).toBe("henna"));
  // Both at once: the second to be kept rests on the first, so neither is taken for a conflict.
  await Promise.all([
    phone.change("client", id, { history: "henna in May" }),
    other.change("client", id, { history: "henna in June" }),
  ]);
  await vi.waitFor(() => {
    expect(phone.one("client", id).value).toEqual(other.one("client", id).value);
  });
  expect(phone.one("client", id).value?.heads).toBeUndefined();
  expect((await outbox()).map(({ device_seq }) => device_seq)).toEqual([1, 2, 3]);
  other.close_records();
});

test("a photo comes back byte for byte under its SHA-256", async () => {
  // FIPS 180-4's own example: the digest of "abc".
  const sha256 = await phone.keep_blob(new Blob(["abc"], { type: "image/jpeg" }));
  expect(sha256).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  const back = await phone.blob_of(sha256);
  expect([await back?.text(), back?.type]).toEqual(["abc", "image/jpeg"]);
  expect(await phone.blob_of("00")).toBeUndefined();
});

test("a text too large for one operation is refused in words, and nothing is kept", async () => {
  const writing = phone.create("note", { text: "é".repeat(40_000) });
  await expect(writing).rejects.toThrow("This is 79 KB of text, and 64 KB is the most");
  expect(await outbox()).toEqual([]);
});

test("what is written carries who is working, and the phone once they left the team", async () => {
  const unsigned = await phone.create("note", { text: "rang the bell twice" });
  const mae = await phone.create("person", { name: "Mae Fictive" });
  await phone.set_writer(mae);
  const note = await phone.create("note", { text: "sits by the window" });
  await phone.remove("person", mae);
  const later = await phone.create("note", { text: "came with a friend" });
  const by = (id: string) => phone.one("note", id).value?.by;
  expect([by(note), by(later)]).toEqual([mae, by(unsigned)]);
  expect(by(unsigned)).not.toBe(mae);
});
