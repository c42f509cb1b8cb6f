// Phones for tests: the pages' own records, outbox and courier, each phone with a store of its own.
import { IDBFactory } from "fake-indexeddb";
import { vi } from "vitest";

export type Phone = Awaited<ReturnType<typeof open_phone>>;

/** Opens a phone anew, as after a kill, on the store it had, or a new one. */
export async function open_phone(store: IDBFactory = new IDBFactory()) {
  vi.resetModules();
  globalThis.indexedDB = store;
  const read = await import("../../src/records/read");
  const write = await import("../../src/records/write");
  const { exchange } = await import("../../src/courier/exchange");
  const { push_all } = await import("../../src/courier/push");
  const { read_tray, send_again, tray } = await import("../../src/courier/tray");
  const database = await import("../../src/outbox/database");
  const { caller } = await import("../../src/courier/position");
  const { POSITION_START } = await import("../../src/courier/position");
  const { server } = await import("../../src/courier/call");
  const { found_at_the_server } = await import("../../src/courier/search");
  const { pair } = await import("../../src/courier/pair");
  const { photo_of, send_photos } = await import("../../src/courier/photos");
  await read.open_records();
  const opened = await database.database();
  return {
    ...read,
    ...write,
    exchange,
    found_at_the_server,
    photo_of,
    send_photos,
    read_tray,
    send_again,
    tray,
    store,
    caller,
    server,
    /** Sends what waits, as another window of this phone may at any time. */
    async push_all() {
      const here = await caller();
      if (here) await push_all(here);
    },
    /** Pairs it with a real server. */
    pair_with: (code: string) => pair(code, "a phone"),
    rows: <Name extends "outbox" | "sent" | "tray" | "base" | "blobs">(name: Name) =>
      opened.getAll(name),
    meta: (key: string) => opened.get("meta", key),
    /** Makes it one of a salon's, as pairing does. */
    async pair() {
      const device = (await opened.get("meta", "device")) as { device_id: string } | undefined;
      if (!device) await write.create("device", { name: "a phone" });
      const { device_id } = (await opened.get("meta", "device")) as { device_id: string };
      const pairing = { token: "t", salon_id: "s", device_id, name: "", paired_at: "" };
      await opened.put("meta", pairing, "pairing");
      await opened.put("meta", { ...POSITION_START, epoch: "e1" }, "post");
    },
    async close() {
      read.close_records();
      await database.close_database();
    },
  };
}

/** Returns all that a phone shows of these kinds, in one order, for comparing two phones. */
export function shown(phone: Phone) {
  const kinds = ["client", "note", "line", "product", "service", "alert_test"] as const;
  return kinds.flatMap((kind) => [...phone.all(kind).value].sort((a, b) => (a.id < b.id ? -1 : 1)));
}

/** Returns the texts of a phone's notes, in their order. */
export const texts = (phone: Phone) => phone.all("note").value.map(({ text }) => text);
