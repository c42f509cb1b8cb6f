// How much goes out in one call: 500 operations, and 2 MiB less 4 KiB for what stands around them.
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test } from "vitest";
import { paired_phone } from "../../tests/courier/one_phone";
import type { Operation } from "../outbox/operation";

const MOST_BYTES = 2 * 1024 * 1024 - 4096;

let phone: Awaited<ReturnType<typeof paired_phone>>;
let batch: typeof import("./batch");

beforeEach(async () => {
  phone = await paired_phone();
  batch = await import("./batch");
});
afterEach(() => phone.close());

/** Has so many operations wait, each of which says `text`. */
async function wait_with(count: number, text: (at: number) => string = () => "x"): Promise<void> {
  await phone.write_at_once(["outbox"], async (writing) => {
    const outbox = writing.objectStore("outbox");
    await outbox.clear();
    for (let at = 1; at <= count; at += 1) {
      const op = { op_id: `${at}`, device_seq: at, fields: { text: text(at) } };
      await outbox.put(op as unknown as Operation, at);
    }
  });
}
const bytes_of = (text: string) => new TextEncoder().encode(text).length;

test.each([
  [499, 499],
  [500, 500],
  [501, 500],
])("of %i operations that wait one call takes %i", async (waiting, taken) => {
  await wait_with(waiting);
  const { ops, queued } = await batch.batch_after(0);
  expect([ops.length, queued]).toEqual([taken, waiting]);
  expect((await batch.batch_after(taken)).ops).toHaveLength(waiting - taken);
});

// A letter of three bytes shows that bytes are counted, and not letters.
test.each(["x", "€"])("a call is filled up to its last byte with %s", async (letter) => {
  const around = bytes_of(JSON.stringify({ op_id: "1", device_seq: 1, fields: { text: "" } })) + 1;
  const room = (MOST_BYTES - 2 * around) / 2;
  const fitting = (more: number) => (at: number) => {
    const bytes = Math.floor(room) + (at === 2 ? more + (MOST_BYTES % 2) : 0);
    return (
      letter.repeat(Math.floor(bytes / bytes_of(letter))) + "x".repeat(bytes % bytes_of(letter))
    );
  };
  await wait_with(2, fitting(0));
  expect((await batch.batch_after(0)).ops).toHaveLength(2);
  await wait_with(2, fitting(-1));
  expect((await batch.batch_after(0)).ops).toHaveLength(2);
  await wait_with(2, fitting(1));
  expect((await batch.batch_after(0)).ops).toHaveLength(1);
});

test("one that is too large by itself goes out alone, for the server to say so", async () => {
  await wait_with(2, () => "x".repeat(MOST_BYTES));
  expect((await batch.batch_after(0)).ops).toHaveLength(1);
});

test("a call that was refused is halved, and grows back to 500 and no further", async () => {
  await wait_with(600);
  const taken = async () => (await batch.batch_after(0)).ops.length;
  batch.halve(await batch.batch_after(0));
  expect(await taken()).toBe(250);
  batch.halve(await batch.batch_after(0));
  expect(await taken()).toBe(125);
  const grown = [];
  for (let times = 0; times < 3; times += 1) {
    batch.allow_more();
    grown.push(await taken());
  }
  expect(grown).toEqual([250, 500, 500]);
});

test("a server that names a smaller limit is given no more than that", async () => {
  await wait_with(3, () => "x".repeat(10_000));
  const one = bytes_of(JSON.stringify((await batch.batch_after(0)).ops[0])) + 1;
  batch.keep_within(undefined);
  expect((await batch.batch_after(0)).ops).toHaveLength(3);
  batch.keep_within(4096 + 2 * one);
  expect((await batch.batch_after(0)).ops).toHaveLength(2);
  batch.keep_within(4096 + 2 * one - 1);
  expect((await batch.batch_after(0)).ops).toHaveLength(1);
});
