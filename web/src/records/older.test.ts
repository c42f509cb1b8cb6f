import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { openDB } from "idb";
import { expect, test, vi } from "vitest";
import first from "../../../tests/vectors/outbox.schema-1.json";
import second from "../../../tests/vectors/outbox.schema-2.json";

test.each([
  [1, first],
  [2, second],
])("an outbox that version %d left opens, shows what it showed and goes on", async (_, corpus) => {
  // Each is a phone of its own.
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const [{ SCHEMA }, { all, open_records }, { create }] = await Promise.all([
    import("./fold"),
    import("./read"),
    import("./write"),
  ]);
  const { device_id } = corpus.device;
  const opened = await openDB("basinside", 1, {
    upgrade(db) {
      for (const store of ["meta", "base", "outbox", "sent", "tray", "blobs", "drafts"]) {
        db.createObjectStore(store);
      }
    },
  });
  await opened.put("meta", corpus.device, "device");
  for (const op of corpus.operations) await opened.put("outbox", op, op.device_seq);

  await open_records();
  const kinds = [...new Set(corpus.shown.map(({ kind }) => kind))] as "note"[];
  // The first version named nobody where nobody was chosen; it was this phone.
  const shown = corpus.shown.map((entity) => ({ ...entity, by: entity.by || device_id }));
  expect(kinds.flatMap((kind) => all(kind).value)).toEqual(shown);

  await create("note", { text: "the next" });
  const { length } = corpus.operations;
  const [stored, next] = await opened.getAll("outbox", IDBKeyRange.lowerBound(length));
  // What waits to be sent stays as it was written: its digest tells the server it is the same.
  expect(stored).toEqual(corpus.operations.at(-1));
  expect(next).toMatchObject({ schema: SCHEMA, device_seq: length + 1, by: expect.any(String) });
  opened.close();
});
