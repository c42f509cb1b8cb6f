// Erases a person here whom the desk erased: records, photos, waiting and refused entries, and
// drafts. The ledger is kept, so that a restored desk cannot forget it.

import type { ErasedEntry } from "../api/shapes";
import { erase_typed_about, may_name_anybody } from "../device/typed";
import { type Writing, with_database, write_at_once } from "../outbox/database";
import type { Operation } from "../outbox/operation";
import { change_sent, sent_after } from "../outbox/sent";
import { sha256_hex } from "../outbox/sha256";
import { sweep_if_due, sweep_is_due } from "../outbox/sweep";
import { forget_acts_about } from "../records/acts";
import { SET_ASIDE, type State } from "../records/fold";
import { look_again, tell_other_windows } from "../records/read";
import { put_position } from "./position";

const STORES = ["meta", "base", "outbox", "sent", "tray", "blobs", "drafts"] as const;

/** Carries erasures out, all or none; no window shows an erased record afterwards. */
export async function carry_out(erased: readonly ErasedEntry[]): Promise<void> {
  const ids = await ids_of(new Set(erased.map(({ id_sha256 }) => id_sha256)));
  await write_at_once(STORES, async (writing) => {
    await wipe_records(writing, ids);
    await wipe_operations(writing, ids);
    const drafts = writing.objectStore("drafts");
    for (const key of await drafts.getAllKeys()) {
      const is_about = [...ids].some((id) => key.includes(id));
      if (is_about || may_name_anybody(key)) await drafts.delete(key);
    }
    const meta = writing.objectStore("meta");
    const ledger = ((await meta.get("ledger")) as ErasedEntry[] | undefined) ?? [];
    const known = new Set(ledger.map(({ n }) => n));
    const longer = [...ledger, ...erased.filter(({ n }) => !known.has(n))];
    await meta.put(longer, "ledger");
    if (ids.size > 0) await sweep_is_due(meta);
    await put_position(meta, { erase_seq: Math.max(0, ...longer.map(({ n }) => n)) });
  });
  // Also where the person has no record here: what may name anybody may name them.
  erase_typed_about(ids);
  if (ids.size === 0) return;
  forget_acts_about(ids);
  // All of it: what was never sent may be about the person too, under an id the desk never had.
  await look_again();
  tell_other_windows({ came_in: true });
  // The records are gone by now; this is about their leftover bytes.
  await sweep_if_due().catch(() => undefined);
}

/** Returns the erasures this phone knows. */
export async function ledger_here(): Promise<ErasedEntry[]> {
  const ledger = await with_database((opened) => opened.get("meta", "ledger"));
  return (ledger as ErasedEntry[] | undefined) ?? [];
}

/** Returns the records named on this phone whose SHA-256 is in the ledger. */
async function ids_of(hashes: ReadonlySet<string>): Promise<Set<string>> {
  const named = await with_database(async (opened) => {
    const reading = opened.transaction(["base", "outbox", "sent", "tray"]);
    const [base, outbox, sent, tray] = await Promise.all([
      reading.objectStore("base").getAllKeys(),
      reading.objectStore("outbox").getAll(),
      sent_after(reading.objectStore("sent"), 0),
      reading.objectStore("tray").getAll(),
    ]);
    const operations = [...outbox, ...sent.map(({ op }) => op), ...tray.map(({ op }) => op)];
    return new Set([...base, ...operations.flatMap((op) => (op ? ids_in(op) : []))]);
  });
  const found = new Set<string>();
  for (const id of named)
    if (hashes.has(await sha256_hex(new TextEncoder().encode(id)))) found.add(id);
  return found;
}

/** Returns the records an operation names: its own, and those it points at. */
function ids_in({ entity_id, fields = {} }: Operation): string[] {
  const pointed = Object.values(fields).filter((v) => typeof v === "string" && v.length === 36);
  return [entity_id, ...(pointed as string[])];
}

type Wiping = Writing<(typeof STORES)[number]>;

async function wipe_records(writing: Wiping, ids: ReadonlySet<string>): Promise<void> {
  const base = writing.objectStore("base");
  for (const id of ids) {
    const state = (await base.get(id)) as State | undefined;
    if (!state) continue;
    const writes = Object.values(state.fields).flatMap(({ heads }) => heads);
    await wipe_photos(
      writing,
      writes.map(({ v }) => v),
    );
    await base.delete(id);
  }
}

/** Strips an operation: it keeps its number and id, so that a repeat is recognised. */
async function wipe_operations(writing: Wiping, ids: ReadonlySet<string>): Promise<void> {
  const names_one = (op: Operation | undefined) => op && ids_in(op).some((id) => ids.has(id));
  const outbox = writing.objectStore("outbox");
  for (const op of await outbox.getAll()) {
    if (!names_one(op)) continue;
    await wipe_photos(writing, Object.values(op.fields ?? {}));
    await outbox.put(emptied(op), op.device_seq);
  }
  await change_sent(writing.objectStore("sent"), 0, (sent) =>
    names_one(sent.op) ? { ...sent, op: emptied(sent.op) } : sent,
  );
  const tray = writing.objectStore("tray");
  for (const { op, ...row } of await tray.getAll()) {
    if (!op || !names_one(op)) continue;
    const message = "This person’s records were erased, so the desk did not keep it.";
    await tray.put({ ...row, code: "erased", message, pointer: "", way_on: "nothing" }, op.op_id);
  }
}

function emptied({ op_id, device_seq, hlc, schema, by }: Operation): Operation {
  return { op_id, device_seq, hlc, schema, by, kind: SET_ASIDE, entity_id: op_id };
}

async function wipe_photos(writing: Wiping, values: readonly unknown[]): Promise<void> {
  for (const v of values) {
    const photo = (v as { photo?: unknown } | null)?.photo ?? v;
    if (typeof photo === "string" && /^[0-9a-f]{64}$/.test(photo)) {
      await writing.objectStore("blobs").delete(photo);
    }
  }
}
