// The second copy, on a store and a cache in memory. What a real browser does to its database when
// it is killed inside a write, tests/faults shows.
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { beforeEach, expect, test, vi } from "vitest";

/** As much of the browser's caches as is used here, per the Service Workers standard, §5.4–5.5. */
class Caches {
  private readonly named = new Map<string, Map<string, Response>>();
  full = false;
  has = async (name: string) => this.named.has(name);
  open = async (name: string) => {
    const kept = this.named.get(name) ?? new Map<string, Response>();
    this.named.set(name, kept);
    const address = (of: string | Request) =>
      typeof of === "string" ? new URL(of, "https://basin.test").href : of.url;
    return {
      keys: async () => [...kept.keys()].map((url) => new Request(url)),
      match: async (of: string | Request) => kept.get(address(of))?.clone(),
      delete: async (of: string | Request) => kept.delete(address(of)),
      put: async (of: string | Request, response: Response) => {
        if (this.full) throw new DOMException("no room", "QuotaExceededError");
        kept.set(address(of), response);
      },
    };
  };
  get addresses(): string[] {
    return [...this.named.values()].flatMap((kept) => [...kept.keys()]);
  }
}

/** The page's own modules, loaded anew, as a reload does. */
async function open_page() {
  vi.resetModules();
  const [read, write, copy] = await Promise.all([
    import("./read"),
    import("./write"),
    import("../outbox/copy"),
  ]);
  await read.open_records();
  return { ...read, ...write, ...copy };
}

function names(page: Awaited<ReturnType<typeof open_page>>) {
  return page.all("client").value.map(({ name }) => name);
}

let caches: Caches;
beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  caches = new Caches();
  vi.stubGlobal("caches", caches);
});

test("all of a database that the browser emptied is put back, with its numbers and photos", async () => {
  const before = await open_page();
  const mae = await before.create("person", { name: "Mae Fictive" });
  await before.set_writer(mae);
  await before.create("client", { name: "Ona Fictive" });
  await before.create("client", { name: "Vera Fictive" });
  const sha256 = await before.keep_blob(new Blob(["a photo"], { type: "image/webp" }));
  before.close_records();
  globalThis.indexedDB = new IDBFactory();

  const after = await open_page();
  expect(names(after)).toEqual(["Ona Fictive", "Vera Fictive"]);
  expect(after.operations_put_back.value).toBe(3);
  expect(after.writer_here.value).toBe(mae);
  const photo = await after.blob_of(sha256);
  expect([photo?.type, await photo?.text()]).toEqual(["image/webp", "a photo"]);
  await after.create("client", { name: "Third Fictive" });
  expect(after.known_seq()).toBe(4);
  after.close_records();

  const again = await open_page();
  expect(again.operations_put_back.value).toBe(0);
  expect(names(again)).toEqual(["Ona Fictive", "Vera Fictive", "Third Fictive"]);
});

test("a database that lost its end gets the end back, once", async () => {
  const before = await open_page();
  await before.create("client", { name: "Ona Fictive" });
  const stores = await read_stores();
  await before.create("client", { name: "Vera Fictive" });
  before.close_records();
  await write_stores(stores);

  const after = await open_page();
  expect(after.operations_put_back.value).toBe(1);
  expect(names(after)).toEqual(["Ona Fictive", "Vera Fictive"]);
});

test("a copy that lacks what the database has is made whole when the page opens", async () => {
  const before = await open_page();
  caches.full = true;
  await before.create("client", { name: "Ona Fictive" });
  await before.create("client", { name: "Vera Fictive" });
  expect(caches.addresses).toEqual([]);
  caches.full = false;
  await before.create("client", { name: "Third Fictive" });
  before.close_records();
  (await open_page()).close_records();
  globalThis.indexedDB = new IDBFactory();
  expect(names(await open_page())).toEqual(["Ona Fictive", "Vera Fictive", "Third Fictive"]);
});

test("many files become one, and what is no longer held is gone from it", async () => {
  const before = await open_page();
  for (let made = 0; made < 201; made += 1) await before.create("client", { name: `No. ${made}` });
  const sha256 = await before.keep_blob(new Blob(["a photo"]));
  expect(caches.addresses).toHaveLength(202);
  before.close_records();

  const after = await open_page();
  expect(caches.addresses).toHaveLength(2);
  await drop_photo(sha256);
  await after.write_copy_anew();
  expect(caches.addresses).toHaveLength(1);
  after.close_records();
  globalThis.indexedDB = new IDBFactory();
  expect(names(await open_page())).toHaveLength(201);
});

test("a file of the copy that was cut off is passed over, and the rest comes back", async () => {
  const before = await open_page();
  await before.create("client", { name: "Ona Fictive" });
  await before.create("client", { name: "Vera Fictive" });
  before.close_records();
  const copy = await caches.open("basinside second copy");
  await copy.put(caches.addresses[1] as string, new Response('[{"op_id":"0190'));
  globalThis.indexedDB = new IDBFactory();
  expect(names(await open_page())).toEqual(["Ona Fictive"]);
});

test("without such a store in the browser, records are kept as they were", async () => {
  vi.stubGlobal("caches", undefined);
  const page = await open_page();
  await page.create("client", { name: "Ona Fictive" });
  await page.write_copy_anew();
  page.close_records();
  expect(names(await open_page())).toEqual(["Ona Fictive"]);
});

const STORES = ["meta", "outbox"] as const;

async function opened() {
  const { database } = await import("../outbox/database");
  return database();
}

async function read_stores() {
  const store = await opened();
  return Promise.all(
    STORES.map(
      async (name) => [name, await store.getAllKeys(name), await store.getAll(name)] as const,
    ),
  );
}

async function write_stores(stores: Awaited<ReturnType<typeof read_stores>>) {
  const store = await opened();
  for (const [name, keys, values] of stores) {
    await store.clear(name);
    for (const [at, value] of values.entries()) await store.put(name, value as never, keys[at]);
  }
}

async function drop_photo(sha256: string) {
  await (await opened()).delete("blobs", sha256);
}
