// What waits on this phone goes out in the order it was written, and leaves the outbox only in the
// one transaction that keeps its receipt. A receipt that never came means the same batch again.
import { v7 as uuidv7 } from "uuid";
import type { Pushed, PushShape } from "../api/shapes";
import { read_stamp } from "../outbox/clock";
import { with_database, write_at_once } from "../outbox/database";
import type { Device } from "../outbox/device";
import type { Operation } from "../outbox/operation";
import type { InTray } from "../outbox/posted";
import { SET_ASIDE } from "../records/fold";
import { look_again, tell_other_windows } from "../records/read";
import { call, server_is_well, Trouble } from "./call";
import { put_post, type Standing } from "./post";

/** A push with the operations as the outbox holds them. */
export type Push = Required<Omit<PushShape, "ops">> & { ops: readonly Operation[] };

const MOST_OPS = 500;
// The server's 2 MiB, less what stands around the operations.
const MOST_BYTES = 2 * 1024 * 1024 - 4096;
/** After so many failures in a row of a server that is otherwise well, the batch is to blame. */
const PATIENCE = 5;

let most_ops = MOST_OPS;
let most_bytes = MOST_BYTES;
let failures = 0;

/** Sends all that waits. Throws `Trouble`; what was not acknowledged by then waits on. */
export async function push_all({ pairing, post }: Standing): Promise<void> {
  for (;;) {
    const { ops, queued } = await next_batch();
    if (ops.length === 0) return;
    const push: Push = {
      v: 1,
      device_id: pairing.device_id,
      epoch: post.epoch,
      app: "",
      sent_at: new Date().toISOString(),
      queued,
      erase_seq: post.erase_seq,
      ops,
    };
    try {
      const pushed = await call<Pushed>("/api/sync/push", { token: pairing.token, body: push });
      failures = 0;
      most_ops = Math.min(MOST_OPS, most_ops * 2);
      await settle(ops, pushed);
    } catch (why) {
      if (!(why instanceof Trouble) || !(await batch_is_to_blame(why))) throw why;
      const [alone] = ops;
      if (ops.length === 1 && alone) await set_aside(alone, why);
      else most_ops = Math.ceil(ops.length / 2);
    }
  }
}

/** The next operations that fit into one call, and how many wait in all. */
async function next_batch(): Promise<{ ops: Operation[]; queued: number }> {
  return with_database(async (opened) => {
    const outbox = opened.transaction("outbox").store;
    const [next, queued] = await Promise.all([outbox.getAll(null, most_ops), outbox.count()]);
    const encoder = new TextEncoder();
    const bytes_of = (what: unknown) => encoder.encode(JSON.stringify(what)).length;
    if (bytes_of(next) <= most_bytes) return { ops: next, queued };
    let room = most_bytes;
    const fits = next.findIndex((op) => {
      room -= bytes_of(op) + 1;
      return room < 0;
    });
    // One that is too large by itself is sent too: the server says what to do with it.
    return { ops: fits < 0 ? next : next.slice(0, Math.max(1, fits)), queued };
  });
}

async function batch_is_to_blame({ status, needs }: Trouble): Promise<boolean> {
  if (status === 413) {
    most_bytes = Math.min(most_bytes, needs.max_bytes ? needs.max_bytes - 4096 : most_bytes);
    return true;
  }
  if (status === 400 || status === 422) return true;
  const waits = status === 503 || status === 507 || (status > 0 && status < 500);
  if (waits) return false;
  failures += 1;
  if (failures < PATIENCE || !(await server_is_well())) return false;
  // A smaller batch is given as long: in a weak network an innocent entry would end in the tray.
  failures = 0;
  return true;
}

/** Keeps the receipts: what was taken goes to `sent`, what was refused to the tray. */
async function settle(ops: readonly Operation[], pushed: Pushed): Promise<void> {
  const now = new Date().toISOString();
  const seq_of = new Map(
    [...pushed.accepted, ...pushed.duplicate].map(({ op_id, seq }) => [op_id, seq]),
  );
  const eff_of = new Map(pushed.clamped.map(({ op_id, eff }) => [op_id, eff]));
  const refused = new Map(pushed.refused.map((receipt) => [receipt.op_id, receipt]));
  const out_of_view: string[] = [];
  await write_at_once(["meta", "outbox", "sent", "tray"], async (writing) => {
    const meta = writing.objectStore("meta");
    const outbox = writing.objectStore("outbox");
    const sent = writing.objectStore("sent");
    const tray = writing.objectStore("tray");
    out_of_view.length = 0;
    const numbers = ops.map(({ device_seq }) => device_seq);
    const here = await outbox.getAll(IDBKeyRange.bound(numbers[0], numbers.at(-1)));
    const waiting = new Map(here.map((op) => [op.device_seq, op]));
    // Asked for all at once; what one of them fails of, the transaction says at its end.
    const asked: Promise<unknown>[] = [];
    for (const { op_id, device_seq } of ops) {
      const op = waiting.get(device_seq);
      if (op?.op_id !== op_id) continue;
      const seq = seq_of.get(op_id);
      const receipt = refused.get(op_id);
      if (seq === undefined && !receipt) continue;
      if (seq !== undefined) {
        const eff = eff_of.get(op_id);
        asked.push(sent.put({ op, seq, sent_at: now, ...(eff && { eff }) }, device_seq));
      } else if (receipt && op.kind !== SET_ASIDE) {
        const { code, message, pointer, then: way_on } = receipt;
        const row = { code, message, pointer, way_on, refused_at: now };
        asked.push(tray.put(code === "erased" ? row : { ...row, op }, op_id));
        out_of_view.push(op.entity_id);
      }
      asked.push(outbox.delete(device_seq));
    }
    await Promise.all(asked);
    await put_post(meta, {
      acked_through: pushed.acked_through,
      safe_seq: pushed.safe_seq,
      sent_at: now,
      clock_offset_ms: pushed.clock_offset_ms,
    });
    const latest = pushed.clamped
      .map(({ eff }) => eff)
      .sort()
      .at(-1);
    const device = (await meta.get("device")) as Device | undefined;
    // A clock that ran ahead goes back to what the server made of it.
    if (latest && device && (await outbox.count()) === 0) {
      const { at_ms, counter } = read_stamp(latest);
      await meta.put({ ...device, clock: { at_ms, counter } }, "device");
    }
  });
  if (out_of_view.length > 0) {
    await look_again(out_of_view);
    tell_other_windows({ came_in: true, ids: out_of_view });
  }
}

/** Moves an operation that cannot be sent to the tray; its number goes out without it. */
async function set_aside(op: Operation, { code, message }: Trouble): Promise<void> {
  const { device_seq, hlc, schema, by } = op;
  const id = uuidv7();
  const filler = { op_id: id, device_seq, hlc, schema, kind: SET_ASIDE, entity_id: id, by };
  const row: InTray = {
    op,
    code: code || "unreadable",
    message,
    pointer: "",
    way_on: "edit",
    refused_at: new Date().toISOString(),
  };
  await write_at_once(["outbox", "tray"], async (writing) => {
    await writing.objectStore("outbox").put(filler, device_seq);
    await writing.objectStore("tray").put(row, op.op_id);
  });
  await look_again([op.entity_id]);
  tell_other_windows({ came_in: true, ids: [op.entity_id] });
}
