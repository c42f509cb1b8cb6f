// What a phone does where the server tells another story than its own, one refusal at a time.
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, test } from "vitest";
import { answer, paired_phone } from "../../tests/courier/one_phone";
import type { Operation } from "../outbox/operation";
import { Trouble } from "./call";

let phone: Awaited<ReturnType<typeof paired_phone>>;
let recover: typeof import("./recover").recover;

beforeEach(async () => {
  phone = await paired_phone();
  ({ recover } = await import("./recover"));
});
afterEach(() => phone.close());

const refused = (code: string, needs: Trouble["needs"] = {}) => new Trouble(409, code, "", needs);
const numbers = async () => (await phone.waiting()).map(({ device_seq }) => device_seq);

/** Writes so many notes and has the server take all of them: numbers 1 to `count` + 1. */
async function notes_sent(count: number): Promise<readonly Operation[]> {
  const ops = await phone.notes(count);
  const { settle } = await import("./receipts");
  const accepted = ops.map(({ op_id }, at) => ({ op_id, seq: at + 1 }));
  await settle(ops, answer({ accepted, acked_through: ops.length }));
  return ops;
}

test("another history of the desk is sent what it has not settled, and read from nothing", async () => {
  const ops = await notes_sent(3);
  await phone.put_meta("post", { ...(await phone.position()), cursor: "e1.4.x", bookmark: "b" });
  expect(await recover(refused("epoch_changed", { epoch: "e2", acked_through: 2 }))).toBe(true);
  expect(await phone.waiting()).toEqual(ops.slice(2));
  expect(await phone.position()).toMatchObject({
    ...{ epoch: "e2", cursor: "", bookmark: "", acked_through: 2 },
  });
  expect((await phone.position())?.last_seq).toBeUndefined();
  expect(phone.all("note").value).toHaveLength(3);
});

test("a desk that names no history leaves all as it is", async () => {
  await notes_sent(1);
  const before = await phone.position();
  expect(await recover(refused("epoch_changed"))).toBe(false);
  expect(await phone.position()).toEqual(before);
});

test.each([
  ["knows no longer", "cursor_expired"],
  ["never gave", "cursor_unknown"],
])("a place that the desk %s is forgotten, and nothing else", async (_, code) => {
  await notes_sent(1);
  const before = { ...(await phone.position()), cursor: "e1.2.x", bookmark: "b" };
  await phone.put_meta("post", before);
  expect(await recover(refused(code))).toBe(true);
  expect(await phone.position()).toEqual({ ...before, cursor: "", bookmark: "" });
  expect(await numbers()).toEqual([]);
});

test("a desk that has settled less is sent the rest again", async () => {
  const ops = await notes_sent(3);
  expect(await recover(refused("acked_less", { acked_through: 1 }))).toBe(true);
  expect(await phone.waiting()).toEqual(ops.slice(1));
  expect(await phone.position()).toMatchObject({ acked_through: 1 });
});

test("a number that is nowhere here any more goes out empty", async () => {
  await notes_sent(3);
  await phone.write_at_once(["sent"], (writing) => writing.objectStore("sent").clear());
  await phone.create("note", { text: "after it" });
  expect(await recover(refused("seq_gap", { expected: 3 }))).toBe(true);
  expect(await numbers()).toEqual([3, 4, 5]);
  const kinds = (await phone.waiting()).map(({ kind }) => kind);
  expect(kinds).toEqual(["set_aside", "set_aside", "note.create"]);
});

test("a gap of which the desk does not say where it is cannot be closed", async () => {
  expect(await recover(refused("seq_gap"))).toBe(false);
});

/** Leaves one note to be sent, so many numbers after the one the desk waits for. */
async function note_after_hole(hole: number): Promise<void> {
  const [made, note] = (await phone.notes(1)) as [Operation, Operation];
  await phone.write_at_once(["outbox"], async (writing) => {
    const outbox = writing.objectStore("outbox");
    await outbox.clear();
    const device_seq = made.device_seq + hole;
    await outbox.put({ ...note, device_seq }, device_seq);
  });
}

test.each([
  [999, "the same"],
  [1000, "the same"],
  [1001, "another"],
])("after a hole of %i numbers the phone goes on under %s name", async (hole, name) => {
  const { device_id } = await phone.device();
  await note_after_hole(hole);
  expect(await recover(refused("seq_gap", { expected: 1 }))).toBe(true);
  const is_same = (await phone.device()).device_id === device_id;
  expect(is_same ? "the same" : "another").toBe(name);
  // Under its own name each missing number is filled; under another they begin at 1.
  expect(await phone.waiting()).toHaveLength(is_same ? hole + 1 : 1);
  expect((await numbers())[0]).toBe(1);
});

test("under another name all is sent again, and says its first number for good", async () => {
  const ops = await notes_sent(1);
  const waits = (await phone.notes(1)).at(-1) as Operation;
  const { device_id } = await phone.device();
  const { go_on_under_another_name } = await import("./recover");
  expect(await recover(refused("device_forked"))).toBe(true);
  const again = await phone.waiting();
  expect(again.map(({ op_id }) => op_id)).toEqual([...ops, waits].map(({ op_id }) => op_id));
  expect(again.map(({ device_seq }) => device_seq)).toEqual([1, 2, 3]);
  const first_numbers = [...ops, waits].map(({ device_seq }) => ({ device_id, device_seq }));
  expect(again.map(({ orig }) => orig)).toEqual(first_numbers);
  const second = await phone.device();
  expect(second).toMatchObject({ device_seq: 3 });
  expect(second.device_id).not.toBe(device_id);
  expect((await phone.caller())?.pairing).toMatchObject({ device_id: second.device_id, token: "" });
  expect(await phone.rows("sent")).toEqual([]);
  await go_on_under_another_name();
  expect((await phone.waiting()).map(({ orig }) => orig)).toEqual(first_numbers);
});

test("what no new beginning would mend is not tried again", async () => {
  expect(await recover(refused("device_revoked"))).toBe(false);
});
