// What waits on this phone goes out in the order it was written. A receipt that never came means the
// same batch again.
//
//   batch 1   call ─────── keep receipts
//   batch 2   read ······· call ─────── keep receipts
//   batch 3                read ······· call …
//
// The next batch is read while the one before it is on its way, and goes out while the receipts of
// that one are kept. A page that is closed in between sends a batch again, which the server knows.
import type { Pushed, PushShape } from "../api/shapes";
import type { Operation } from "../outbox/operation";
import { allow_more, type Batch, batch_after, halve, keep_within } from "./batch";
import { call, server_is_well, Trouble } from "./call";
import type { Caller } from "./position";
import { set_aside, settle } from "./receipts";

/** Returns a push with the operations as the outbox holds them. */
export type Push = Required<Omit<PushShape, "ops">> & { ops: readonly Operation[] };

/** After this many failures of an otherwise healthy server, the batch is to blame. */
const PATIENCE = 5;

let failures = 0;

/** Sends all that waits. Throws `Trouble`; unacknowledged operations stay. */
export async function push_all(caller: Caller): Promise<void> {
  let batch = await batch_after(0);
  let settling = Promise.resolve(true);
  while (batch.ops.length > 0) {
    const answer = send(caller, batch);
    const ahead = batch_after(batch.ops.at(-1)?.device_seq ?? 0);
    for (const work of [answer, ahead]) work.catch(() => undefined);
    const came = await answer.catch((why: unknown) => ({ why }));
    const all_left = await settling;
    if ("why" in came) {
      await make_way(batch, came.why);
      batch = await batch_after(0);
      continue;
    }
    failures = 0;
    allow_more();
    settling = settle(batch.ops, came);
    settling.catch(() => undefined);
    batch = await ahead;
    // At the end, or if something stayed behind, it looks at all waiting operations again.
    if (!all_left || batch.ops.length === 0) {
      await settling;
      batch = await batch_after(0);
    }
  }
}

function send({ pairing, position }: Caller, { json, queued }: Batch): Promise<Pushed> {
  const head: Omit<Push, "ops"> = {
    v: 1,
    device_id: pairing.device_id,
    epoch: position.epoch,
    app: "",
    sent_at: new Date().toISOString(),
    queued,
    erase_seq: position.erase_seq,
  };
  // The operations are JSON already.
  const text = `${JSON.stringify(head).slice(0, -1)},"ops":${json}}`;
  return call<Pushed>("/api/sync/push", { token: pairing.token, json: text });
}

/** Changes the next batch if this one is to blame; throws any other trouble. */
async function make_way(batch: Batch, why: unknown): Promise<void> {
  if (!(why instanceof Trouble) || !(await is_to_blame(why))) throw why;
  const [alone] = batch.ops;
  if (batch.ops.length === 1 && alone) await set_aside(alone, why);
  else halve(batch);
}

async function is_to_blame({ status, needs }: Trouble): Promise<boolean> {
  if (status === 413) {
    keep_within(needs.max_bytes);
    return true;
  }
  if (status === 400 || status === 422) return true;
  const waits = status === 503 || status === 507 || (status > 0 && status < 500);
  if (waits) return false;
  failures += 1;
  if (failures < PATIENCE || !(await server_is_well())) return false;
  // A smaller batch gets as long: in a weak network an innocent entry would end in the tray.
  failures = 0;
  return true;
}
