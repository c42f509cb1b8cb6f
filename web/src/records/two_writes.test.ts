// What follows where two phones wrote on one record, or where the writes came out of order.
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { openDB } from "idb";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { stamp_text } from "../outbox/clock";
import type { Operation } from "../outbox/operation";
import { SCHEMA } from "./fold";

const OTHER = "00000000-0000-7000-8000-00000000000b";

async function open_phone() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const page = { ...(await import("./read")), ...(await import("./write")) };
  await page.open_records();
  return page;
}

let phone: Awaited<ReturnType<typeof open_phone>>;
beforeEach(async () => {
  phone = await open_phone();
});
afterEach(() => phone.close_records());

async function last_written(): Promise<Operation> {
  const opened = await openDB("basinside");
  const written = (await opened.getAll("outbox")) as Operation[];
  opened.close();
  return written.at(-1) as Operation;
}

/** An operation of another phone, which had seen nothing of this one's. */
function elsewhere(entity_id: string, time: string, rest: Partial<Operation>): Operation {
  return {
    ...{ op_id: phone.new_id(), device_seq: 1, by: OTHER, schema: SCHEMA, entity_id },
    ...{ hlc: stamp_text({ at_ms: Date.parse(time), counter: 0 }, OTHER), kind: "client.set" },
    ...rest,
  };
}

test("choosing one of two texts writes it, though it is the one that is shown", async () => {
  const id = await phone.create("client", { name: "Ona Fictive", history: "henna" });
  phone.take([elsewhere(id, "2030-01-01T10:00:00Z", { fields: { history: "henna in May" } })]);
  expect(phone.one("client", id).value?.heads?.history).toHaveLength(2);
  await phone.change("client", id, { history: "henna in May" });
  expect(phone.one("client", id).value?.heads).toBeUndefined();
  expect(phone.one("client", id).value?.history).toBe("henna in May");
});

test("choosing the more cautious of two words needs no decision", async () => {
  const id = await phone.create("client", { name: "Ona Fictive", colour_reaction: "mild" });
  const severe = { fields: { colour_reaction: "severe" }, base: {}, from: {} };
  phone.take([elsewhere(id, "2030-01-01T10:00:00Z", severe)]);
  expect(phone.one("client", id).value?.heads?.colour_reaction).toHaveLength(2);
  await phone.change("client", id, { colour_reaction: "severe" });
  expect((await last_written()).kind).toBe("client.set");
  expect(phone.one("client", id).value?.colour_reaction).toBe("severe");
  expect(phone.one("client", id).value?.heads).toBeUndefined();
});

test("a record whose creation has not come is as old as its earliest write", async () => {
  const id = phone.new_id();
  phone.take([
    elsewhere(id, "2026-11-25T10:00:00Z", { fields: { phone: "555" } }),
    elsewhere(id, "2026-11-24T10:00:00Z", { fields: { name: "Ona Fictive" } }),
    elsewhere(id, "2026-11-26T10:00:00Z", { fields: { history: "henna" } }),
  ]);
  expect(phone.one("client", id).value).toMatchObject({
    ...{ created_at: "2026-11-24T10:00:00.000Z", incomplete: true, by: OTHER },
  });
  const born = { kind: "client.create", fields: {} };
  phone.take([elsewhere(id, "2026-11-23T10:00:00Z", born)]);
  expect(phone.one("client", id).value?.created_at).toBe("2026-11-23T10:00:00.000Z");
  expect(phone.one("client", id).value).not.toHaveProperty("incomplete");
});

test("what follows by itself is no act: undo takes back what a person did before it", async () => {
  const id = await phone.create("client", { name: "Ona Fictive" });
  await phone.change("client", id, { phone: "555" });
  await phone.change("client", id, { history: "worked out" }, null);
  expect(phone.last_act.value).toMatchObject({ words: "Changed a client: phone." });
  expect(await phone.undo()).toBe("Undone: changed a client: phone.");
  expect(phone.one("client", id).value).not.toHaveProperty("phone");
  expect(phone.one("client", id).value?.history).toBe("worked out");
});
