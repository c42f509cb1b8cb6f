// Records of another history of the desk, or of a file, may be missing on the server. This phone
// says which writes it holds, and gives the server those it lacks.

import type { Offered } from "../api/shapes";
import { with_database, write_at_once } from "../outbox/database";
import { look_again, tell_other_windows } from "../records/read";
import { call } from "./call";
import { carry_out, ledger_here } from "./erase";
import type { Caller } from "./position";
import { type Based, change_of_state, standing_ops } from "./wire";

const MOST_RECORDS = 500;

/** Hands back what the server lacks; returns the number of records. Throws `Trouble`. */
export async function hand_back({ pairing, position }: Caller): Promise<number> {
  let count = 0;
  const [{ token, device_id }, { epoch }] = [pairing, position];
  const stale = await of_another_history(epoch);
  const erased = await ledger_here();
  const most = erased.length > 0 ? Math.max(1, stale.length) : stale.length;
  for (let at = 0; at < most; at += MOST_RECORDS) {
    const records = stale.slice(at, at + MOST_RECORDS);
    const have = records.map((state) => ({ entity_id: state.id, ops: standing_ops(state) }));
    const whose = { v: 1, device_id, epoch };
    const body = { ...whose, have, erased: at === 0 ? erased : [] };
    const offered = await call<Offered>("/api/sync/offer", { token, body });
    if (offered.erased.length > 0) await carry_out(offered.erased);
    const missing = new Set(offered.missing);
    const lacked = records.filter((state) => standing_ops(state).some((op) => missing.has(op)));
    if (lacked.length === 0) continue;
    const changes = lacked.map(change_of_state);
    await call("/api/sync/rescue", { token, body: { ...whose, changes } });
    count += lacked.length;
  }
  return count;
}

/** Deletes records of another history, once the present one was fetched whole. */
export async function let_old_go({ position }: Caller): Promise<void> {
  const ids = (await of_another_history(position.epoch)).map(({ id }) => id);
  if (ids.length === 0) return;
  await write_at_once(["base"], async (writing) => {
    for (const id of ids) await writing.objectStore("base").delete(id);
  });
  await look_again(ids);
  tell_other_windows({ came_in: true, ids });
}

async function of_another_history(epoch: string): Promise<Based[]> {
  const base = (await with_database((opened) => opened.getAll("base"))) as Based[];
  return base.filter((state) => state.epoch !== epoch);
}
