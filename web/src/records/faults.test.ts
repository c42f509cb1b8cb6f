import "fake-indexeddb/auto";
import { effect } from "@preact/signals";
import { IDBFactory } from "fake-indexeddb";
import { openDB } from "idb";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import type { Operation } from "../outbox/operation";

type Window = Awaited<ReturnType<typeof open_window>>;

async function open_window() {
  vi.resetModules();
  const read = await import("./read");
  const write = await import("./write");
  const { close_database } = await import("../outbox/database");
  return { ...read, ...write, close_database };
}

async function outbox(): Promise<Operation[]> {
  const opened = await openDB("basinside");
  const operations = await opened.getAll("outbox");
  opened.close();
  return operations;
}

const genuine = {
  put: IDBObjectStore.prototype.put,
  transaction: IDBDatabase.prototype.transaction,
  listen: IDBTransaction.prototype.addEventListener,
};
const windows: Window[] = [];
let phone: Window;

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory();
  phone = await open_window();
  windows.push(phone);
  await phone.create("note", { text: "before" });
});

afterEach(() => {
  IDBObjectStore.prototype.put = genuine.put;
  IDBDatabase.prototype.transaction = genuine.transaction;
  IDBTransaction.prototype.addEventListener = genuine.listen;
  vi.useRealTimers();
  for (const one of windows.splice(0)) {
    one.close_records();
    void one.close_database();
  }
});

/** Ends the next writing transactions as a browser does when it gives up: by `abort` alone. */
function abort_writes(name: string, times = Number.POSITIVE_INFINITY) {
  let left = times;
  IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...row) {
    const request = genuine.put.apply(this, row as [unknown]);
    if (this.name === "meta" && left > 0) {
      left -= 1;
      // The store's own way to abort, with the reason a browser would give.
      (this.transaction as unknown as { _abort(name: string): void })._abort(name);
    }
    return request;
  } as typeof genuine.put;
}

type Heard = (event: Event) => void;

/** Puts something between a transaction's events and who listens to them. */
function listen(between: (transaction: IDBTransaction, type: string, heard: Heard) => Heard) {
  IDBTransaction.prototype.addEventListener = function (
    this: IDBTransaction,
    type: string,
    heard: Heard,
  ) {
    genuine.listen.call(this, type, between(this, type, heard));
  } as typeof genuine.listen;
}

function unkept_text(): string {
  const state = phone.kept_state.value;
  return typeof state === "string" ? "" : state.text;
}

test("a full phone keeps nothing of the act, says so, offers the text, and goes on later", async () => {
  abort_writes("QuotaExceededError");
  const writing = phone.create("note", { text: "porous ends" });
  await expect(writing).rejects.toThrow("This phone is full, so this was not kept.");
  expect(unkept_text()).toContain("porous ends");
  expect(phone.all("note").value).toHaveLength(1);
  expect(await outbox()).toHaveLength(1);

  IDBObjectStore.prototype.put = genuine.put;
  await phone.create("note", { text: "another" });
  // What was not kept is still offered, until it is written again or let go.
  expect(unkept_text()).toContain("porous ends");
  await phone.create("note", { text: "porous ends" });
  expect(phone.kept_state.value).toBe("kept");
  expect((await outbox()).map(({ device_seq }) => device_seq)).toEqual([1, 2, 3]);
});

test("a transaction that was aborted once is done again, once", async () => {
  abort_writes("AbortError", 1);
  await phone.create("note", { text: "porous ends" });
  expect((await outbox()).map(({ fields }) => fields?.text)).toEqual(["before", "porous ends"]);
});

test("a store that keeps aborting leaves the text with the person", async () => {
  abort_writes("AbortError");
  const writing = phone.create("note", { text: "porous ends" });
  await expect(writing).rejects.toThrow("This phone’s store did not answer");
  expect(unkept_text()).toContain("porous ends");
  phone.let_unkept_go();
  expect(phone.kept_state.value).toBe("kept");
});

describe("a lost connection", () => {
  function lose_connection(times: number) {
    let left = times;
    IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...asked) {
      if (left-- > 0) throw new DOMException("Connection lost", "InvalidStateError");
      return genuine.transaction.apply(this, asked as [string]);
    } as typeof genuine.transaction;
  }

  test("is opened anew, and the write done once", async () => {
    lose_connection(1);
    await phone.create("note", { text: "porous ends" });
    expect(phone.kept_state.value).toBe("kept");
    expect(await outbox()).toHaveLength(2);
  });

  test("that stays lost is said, and what was written is offered", async () => {
    lose_connection(Number.POSITIVE_INFINITY);
    const writing = phone.create("note", { text: "porous ends" });
    await expect(writing).rejects.toThrow("This phone’s store did not answer");
    expect(unkept_text()).toContain("porous ends");
  });

  test("after the commit, before it was told, does not write twice", async () => {
    let lost: IDBTransaction | undefined;
    listen((transaction, type, heard) => {
      if (transaction.mode !== "readwrite") return heard;
      lost ??= transaction;
      // It is kept, but this window hears nothing until it hears of an abort.
      if (transaction !== lost) return heard;
      if (type === "abort") genuine.listen.call(transaction, "complete", heard);
      return () => undefined;
    });
    await phone.create("note", { text: "porous ends" });
    expect(lost).toBeDefined();
    expect((await outbox()).map(({ fields }) => fields?.text)).toEqual(["before", "porous ends"]);
    expect(phone.all("note").value).toHaveLength(2);
  });
});

test("'kept' is never said before the store says complete", async () => {
  const order: string[] = [];
  const completed = new WeakSet<IDBTransaction>();
  listen((transaction, type, heard) => (event) => {
    // The list of the day's acts is written beside it, and says nothing.
    const of_an_act = transaction.mode === "readwrite" && writes_to(transaction, "outbox");
    if (type === "complete" && of_an_act && !completed.has(transaction)) {
      completed.add(transaction);
      order.push("complete");
    }
    heard(event);
  });
  const stop = effect(() => {
    order.push(String(phone.kept_state.value));
  });
  for (const text of ["one", "two", "three"]) {
    await phone.create("note", { text });
    order.push("told");
  }
  stop();
  const once = ["keeping", "complete", "kept", "told"];
  expect(order).toEqual(["kept", ...once, ...once, ...once]);
});

function writes_to(transaction: IDBTransaction, store: string): boolean {
  return [...transaction.objectStoreNames].includes(store);
}

// SQLite's habit: let the Nth step fail, for every N, until a run is left untouched.
test("whichever step fails, an act of three records is there whole or not at all", async () => {
  let untouched = false;
  let kept = 1;
  for (let fails_at = 1; !untouched; fails_at += 1) {
    expect(fails_at).toBeLessThan(50);
    let step = 0;
    const failing = (genuine_call: (...call: never[]) => unknown) =>
      function (this: unknown, ...call: never[]) {
        step += 1;
        if (step === fails_at) throw new DOMException("planted", "UnknownError");
        return genuine_call.apply(this as never, call);
      };
    IDBObjectStore.prototype.put = failing(genuine.put) as typeof genuine.put;
    IDBDatabase.prototype.transaction = failing(genuine.transaction) as typeof genuine.transaction;
    const service = crypto.randomUUID();
    const zones = ["roots", "ends"].map((name) => ({
      do: "create" as const,
      kind: "zone" as const,
      id: crypto.randomUUID(),
      fields: { service, name },
    }));
    await phone.together([
      { do: "create", kind: "service", id: service, fields: { purpose: "client" } },
      ...zones,
    ]);
    untouched = step < fails_at;
    IDBObjectStore.prototype.put = genuine.put;
    IDBDatabase.prototype.transaction = genuine.transaction;
    kept += 3;
    const stored = await outbox();
    // One failure is always mended by the second try, and never leaves half or double.
    expect(stored.map(({ device_seq }) => device_seq)).toEqual(stored.map((_, at) => at + 1));
    expect(stored).toHaveLength(kept);
    expect(new Set(stored.map(({ op_id }) => op_id)).size).toBe(kept);
    expect(phone.kept_state.value).toBe("kept");
  }
});

test("two windows that write at once share one numbering without a hole", async () => {
  const other = await open_window();
  windows.push(other);
  const texts = Array.from({ length: 40 }, (_, at) => `note ${at}`);
  await Promise.all(texts.map((text, at) => (at % 2 ? phone : other).create("note", { text })));
  const stored = await outbox();
  expect(stored.map(({ device_seq }) => device_seq)).toEqual(stored.map((_, at) => at + 1));
  expect(new Set(stored.map(({ fields }) => fields?.text))).toEqual(new Set(["before", ...texts]));
  await vi.waitFor(() => expect(other.all("note").value).toEqual(phone.all("note").value));
  expect(phone.all("note").value).toHaveLength(41);
});

describe("another version in another window", () => {
  const genuine_open = () => IDBFactory.prototype.open;

  test("that is newer is let in; here the text stays and reloading is asked for", async () => {
    // Were this window's handle to stay open, this would never come.
    const newer = await openDB("basinside", 2);
    const writing = phone.create("note", { text: "porous ends" });
    await expect(writing).rejects.toThrow("Basinside was updated in another window");
    expect(unkept_text()).toContain("porous ends");
    newer.close();
  });

  test("that is older and holds on is said, and the write is kept once it has closed", async () => {
    await phone.close_database();
    const older = await openDB("basinside", 1);
    const open = genuine_open();
    globalThis.indexedDB.open = function (this: IDBFactory, name: string, version?: number) {
      return open.call(this, name, (version ?? 1) + 1);
    };
    const writing = phone.create("note", { text: "porous ends" });
    await vi.waitFor(() => expect(unkept_text()).toContain("porous ends"));
    expect(phone.kept_state.value).toMatchObject({
      words: expect.stringContaining("Another window of Basinside blocks this"),
    });
    older.close();
    await writing;
    expect(phone.kept_state.value).toBe("kept");
    expect(phone.all("note").value).toHaveLength(2);
  });
});

test("a window frozen while it writes does not take the text with it", async () => {
  const frozen = await openDB("basinside");
  const held = frozen.transaction("outbox", "readwrite");
  let frozen_now = true;
  const hold = async () => {
    while (frozen_now) await held.store.get(1);
  };
  const holding = hold();
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
  const writing = phone.create("note", { text: "porous ends" });
  await new Promise(setImmediate);
  expect(phone.kept_state.value).toBe("keeping");
  vi.advanceTimersByTime(8000);
  expect(phone.kept_state.value).toMatchObject({
    words: expect.stringContaining("Another window of Basinside blocks this"),
    text: expect.stringContaining("porous ends"),
  });
  frozen_now = false;
  await holding;
  await writing;
  expect(phone.kept_state.value).toBe("kept");
  frozen.close();
});
