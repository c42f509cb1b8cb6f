// What becomes of each operation of a batch once the server has answered it.
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { answer, paired_phone } from "../../tests/courier/one_phone";
import { stamp_text } from "../outbox/clock";
import type { Operation } from "../outbox/operation";
import { sent_in } from "../outbox/sent";
import { Trouble } from "./call";

let phone: Awaited<ReturnType<typeof paired_phone>>;
let settle: typeof import("./receipts").settle;
let set_aside: typeof import("./receipts").set_aside;

beforeEach(async () => {
  phone = await paired_phone();
  ({ settle, set_aside } = await import("./receipts"));
});
afterEach(async () => {
  await phone.close();
  vi.useRealTimers();
});

const taken = ({ op_id }: Operation, seq: number) => ({ op_id, seq });
const refused = ({ op_id, device_seq }: Operation, code: string) =>
  // biome-ignore lint/suspicious/noThenProperty: the field's name on the wire
  ({ op_id, device_seq, code, message: "No.", pointer: "/x", then: "edit" }) as never;
const sent = async () => (await phone.rows("sent")).flatMap(sent_in);

test("what was taken leaves the outbox with the server's number", async () => {
  const ops = await phone.notes(2);
  const accepted = ops.map((op, at) => taken(op, 40 + at));
  expect(await settle(ops, answer({ accepted, acked_through: 3 }))).toBe(true);
  expect(await phone.waiting()).toEqual([]);
  expect((await sent()).map(({ seq }) => seq)).toEqual(accepted.map(({ seq }) => seq));
  expect(await phone.position()).toMatchObject({ acked_through: 3, last_seq: 42 });
});

test("what has no receipt stays and is said to have stayed", async () => {
  const ops = await phone.notes(2);
  expect(await settle(ops, answer({ accepted: ops.slice(0, 2).map(taken) }))).toBe(false);
  expect(await phone.waiting()).toEqual(ops.slice(2));
});

test("operations that took other numbers meanwhile are not settled by the old ones", async () => {
  const ops = (await phone.notes(1)) as [Operation, Operation];
  await phone.write_at_once(["outbox"], async (writing) => {
    const outbox = writing.objectStore("outbox");
    await outbox.put({ ...ops[1], device_seq: 1 }, 1);
    await outbox.put({ ...ops[0], device_seq: 2 }, 2);
  });
  expect(await settle(ops, answer({ accepted: ops.map(taken) }))).toBe(false);
  expect((await phone.waiting()).map(({ op_id }) => op_id)).toEqual([ops[1].op_id, ops[0].op_id]);
});

test("what was refused lies whole in the tray with its reason, and leaves the screen", async () => {
  const ops = await phone.notes(1);
  const note = ops.at(-1) as Operation;
  await settle(ops, answer({ refused: [refused(note, "field_invalid")] }));
  const [row] = await phone.rows("tray");
  expect(row).toMatchObject({ code: "field_invalid", pointer: "/x", way_on: "edit", op: note });
  expect(phone.all("note").value).toEqual([]);
});

test("of what was refused since its person was erased, no word is kept", async () => {
  await phone.create("client", { name: "canary" });
  const ops = await phone.waiting();
  await settle(ops, answer({ refused: [refused(ops.at(-1) as Operation, "erased")] }));
  const rows = await phone.rows("tray");
  expect(rows).toHaveLength(1);
  expect(rows[0]).toMatchObject({ code: "erased" });
  expect(rows[0]).not.toHaveProperty("op");
  expect(JSON.stringify([rows, await sent()])).not.toContain("canary");
});

test("a clock that ran ahead goes back to what the server made of it", async () => {
  vi.useFakeTimers({ now: Date.parse("2031-01-01T00:00:00Z"), toFake: ["Date"] });
  const ops = await phone.notes(1);
  const { device_id, clock } = await phone.device();
  expect(clock.at_ms).toBe(Date.parse("2031-01-01T00:00:00Z"));
  const at_ms = Date.parse("2026-11-25T10:00:00Z");
  const earlier = stamp_text({ at_ms: at_ms - 1, counter: 9 }, device_id);
  const eff = stamp_text({ at_ms, counter: 7 }, device_id);
  const clamped = ops.map(({ op_id }, at) => ({ op_id, eff: at === 0 ? eff : earlier }));
  await settle(ops, answer({ accepted: ops.map(taken), clamped }));
  expect((await phone.device()).clock).toEqual({ at_ms, counter: 7 });
  expect((await sent()).map((row) => row.eff)).toEqual(clamped.map((row) => row.eff));
});

test("the clock stays while something stamped by it still waits", async () => {
  const ops = await phone.notes(2);
  const { device_id, clock } = await phone.device();
  const eff = stamp_text({ at_ms: 5, counter: 0 }, device_id);
  const [first] = ops as [Operation];
  await settle(
    ops.slice(0, 1),
    answer({ accepted: [taken(first, 1)], clamped: [{ op_id: first.op_id, eff }] }),
  );
  expect((await phone.device()).clock).toEqual(clock);
});

test("a repeat does not say which of the server's numbers is the greatest", async () => {
  const ops = await phone.notes(2);
  await phone.put_meta("post", { ...(await phone.position()), last_seq: undefined });
  const [first, second, third] = ops as [Operation, Operation, Operation];
  await settle([first], answer({ duplicate: [taken(first, 7)] }));
  expect((await phone.position())?.last_seq).toBeUndefined();
  await settle([second], answer({ accepted: [taken(second, 9)] }));
  expect((await phone.position())?.last_seq).toBe(9);
  await settle([third], answer({ duplicate: [taken(third, 8)] }));
  expect((await phone.position())?.last_seq).toBe(9);
});

test("what cannot be sent lies in the tray, and its number goes out empty", async () => {
  const ops = await phone.notes(1);
  const note = ops.at(-1) as Operation;
  await set_aside(note, new Trouble(400, "", "It cannot be read."));
  const filler = (await phone.waiting()).at(-1);
  expect(filler).toMatchObject({ kind: "set_aside", device_seq: note.device_seq, hlc: note.hlc });
  expect(filler).not.toHaveProperty("fields");
  const [row] = await phone.rows("tray");
  expect(row).toMatchObject({ code: "unreadable", message: "It cannot be read.", op: note });
  expect(phone.all("note").value).toEqual([]);
});
