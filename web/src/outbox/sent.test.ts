import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { close_database, with_database, write_at_once } from "./database";
import type { Sent } from "./position";
import { change_sent, put_sent, sent_after } from "./sent";

const sent = (device_seq: number): Sent =>
  ({ op: { op_id: `op ${device_seq}`, device_seq }, seq: device_seq, sent_at: "" }) as Sent;
const numbers_after = (device_seq: number) =>
  with_database(async (opened) => {
    const found = await sent_after(opened.transaction("sent").store, device_seq);
    return found.map(({ op }) => op.device_seq);
  });
const keys = () => with_database((opened) => opened.getAllKeys("sent"));

test("what an older version left, a row for each, is read and changed with the rows of now", async () => {
  await write_at_once(["sent"], async (writing) => {
    const store = writing.objectStore("sent");
    for (const n of [1, 2, 3]) await store.put(sent(n), n);
    await put_sent(store, [sent(4), sent(5), sent(6)]);
    await put_sent(store, []);
  });
  expect(await keys()).toEqual([1, 2, 3, 6]);
  expect(await numbers_after(0)).toEqual([1, 2, 3, 4, 5, 6]);
  // From the middle of a row on.
  expect(await numbers_after(4)).toEqual([5, 6]);
  expect(await numbers_after(6)).toEqual([]);

  // Gone from the middle of a row on, and from there to the end.
  await write_at_once(["sent"], (writing) =>
    change_sent(writing.objectStore("sent"), 4, () => undefined),
  );
  expect(await keys()).toEqual([1, 2, 3, 4]);
  expect(await numbers_after(0)).toEqual([1, 2, 3, 4]);

  await write_at_once(["sent"], (writing) =>
    change_sent(writing.objectStore("sent"), 0, (each) =>
      each.op.device_seq === 2 ? { ...each, seq: 20 } : each,
    ),
  );
  const all = await with_database((opened) => sent_after(opened.transaction("sent").store, 0));
  expect(all.map(({ seq }) => seq)).toEqual([1, 20, 3, 4]);
  await close_database();
});
