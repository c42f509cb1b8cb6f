// The records on this phone: what the server last gave, with everything written here since.
import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { read_stamp, stamp_time } from "../outbox/clock";
import { put_back_lost } from "../outbox/copy";
import type { Operation } from "../outbox/operation";
import { type Held, held, written_after } from "../outbox/operations";
import { named_here } from "../outbox/world";
import { bring_check, is_sound, note_unsound, was_any_unsound } from "./checked";
import { every_kind, fold, type Kind, parts_of, type State } from "./fold";
import type { Entity } from "./shapes";
import { forget_shown, show } from "./show";
import { upcast } from "./upcast";

const CHECKED_AT_ONCE = 500;

const states = new Map<string, State>();
const hidden = signal<ReadonlySet<string>>(new Set());
/** The records that no screen shows, since their erasure was asked for. */
export const hidden_here: ReadonlySignal<ReadonlySet<string>> = hidden;
/** For each kind, a number that grows whenever a record of it has changed. */
const revisions = new Map<string, Signal<number>>();
const lists = new Map<string, ReadonlySignal<readonly Entity[]>>();
const singles = new Map<string, ReadonlySignal<Entity | undefined>>();

let last_seq = 0;
/** Operations shown since the store was last read. */
let fresh: Operation[] = [];
let opening: Promise<void> | undefined;

const ready = signal(false);
/** False until this phone's records have been read: an empty list says nothing before that. */
export const records_ready: ReadonlySignal<boolean> = ready;

/** Grows whenever something was written on this phone, in any window. */
export const written = signal(0);

/** Whether this phone is paired with a salon and sends what is written on it. */
export const is_paired = signal(false);

/** The id this phone writes under; empty until something was written on it. */
export const device_here = signal("");

/** Who writes on this phone: a person's id, or empty until somebody was chosen. */
export const writer_here = signal("");

/**
 * The same, but empty once that person was taken off the team: the desk would refuse their writes.
 */
export const author_here: ReadonlySignal<string> = computed(() =>
  writer_here.value && one("person", writer_here.value).value ? writer_here.value : "",
);

/** Reads this phone's records, once; throws a failure, and the next call tries again. */
export function open_records(): Promise<void> {
  opening ??= read_all().catch((why: unknown) => {
    opening = undefined;
    throw why;
  });
  return opening;
}

const put_back = signal(0);
/** How many operations the browser's database had lost when the page opened, and has again. */
export const operations_put_back: ReadonlySignal<number> = put_back;

async function read_all(): Promise<void> {
  put_back.value = await put_back_lost();
  if (was_any_unsound()) await bring_check().catch(() => undefined);
  lay_out(await held());
  listen();
  ready.value = true;
}

/**
 * Brings the check of types, once: what is not of its type does not show from then on, and is listed
 * under what needs a look. Throws where its code cannot be loaded.
 */
export function check_types(): Promise<void> {
  checking ??= check_all().catch((why: unknown) => {
    checking = undefined;
    throw why;
  });
  return checking;
}

let checking: Promise<void> | undefined;

async function check_all(): Promise<void> {
  await bring_check();
  const before = [...states.values()];
  let any = false;
  for (let from = 0; from < before.length; from += CHECKED_AT_ONCE) {
    // A salon has thousands of records, and the page is in use.
    if (from > 0) await new Promise((later) => setTimeout(later));
    any = look_for_unsound(before.slice(from, from + CHECKED_AT_ONCE)) || any;
  }
  if (!any) note_unsound(false);
}

/** Shows those that are not sound without what is wrong in them; returns whether there are any. */
function look_for_unsound(among: readonly State[]): boolean {
  const unsound = among.filter((state) => !is_sound(state));
  if (unsound.length === 0) return false;
  note_unsound(true);
  for (const state of unsound) forget_shown(state);
  for (const kind of new Set(unsound.map((state) => state.kind))) revision_of(kind).value += 1;
  return true;
}

/**
 * Reads these records of this phone again, or all, after something came in. Writes made during the
 * reading stay.
 */
export async function look_again(ids?: readonly string[]): Promise<void> {
  lay_out(await held(ids), ids);
}

/**
 * Shows these records of this phone, or all, as of one moment: the server's version, the sent
 * operations it lacks, and the waiting ones. Call it right after that moment's transaction, before
 * anything later can have been read.
 */
export function lay_out(now: Held, ids?: readonly string[]): void {
  const { device, writer, pairing, base, sent, outbox } = now;
  writer_here.value = writer ?? "";
  is_paired.value = pairing !== undefined;
  if (now.hidden.join() !== [...hidden.peek()].join()) hidden.value = new Set(now.hidden);
  const read_seq = device?.device_seq ?? 0;
  // A phone that was copied or emptied goes on under another identity, with numbers of its own.
  const same_phone = !device_here.value || device?.device_id === device_here.value;
  device_here.value = device?.device_id ?? "";
  const wanted = ids && same_phone ? new Set(ids) : undefined;

  const moved = new Set<string>();
  const before = new Map<string, State | undefined>();
  for (const id of wanted ?? [...states.keys()]) {
    before.set(id, states.get(id));
    states.delete(id);
  }
  for (const state of base as State[]) {
    if (!wanted || wanted.has(state.id)) states.set(state.id, state);
  }
  const mine = [...sent, ...outbox.map((op) => ({ op, eff: undefined }))];
  for (const { op, eff } of mine) if (!wanted || wanted.has(op.entity_id)) fold_in(op, eff);
  // The read lacks operations kept since.
  fresh = fresh.filter(
    ({ device_seq, hlc }) => device_seq > read_seq && hlc.endsWith(device?.device_id ?? ""),
  );
  for (const op of fresh) if (!wanted || wanted.has(op.entity_id)) fold_in(op);
  last_seq = same_phone ? Math.max(last_seq, read_seq) : read_seq;

  for (const id of new Set([...before.keys(), ...base.map((state) => (state as State).id)])) {
    const kind = states.get(id)?.kind ?? before.get(id)?.kind;
    if (kind) moved.add(kind);
  }
  for (const { op } of mine) if (!wanted) moved.add(parts_of(op).of);
  for (const kind of moved) revision_of(kind).value += 1;
  if (wanted) look_for_unsound([...wanted].flatMap((id) => states.get(id) ?? []));
}

/** Returns every record of a kind that is not deleted, in the order they were made. */
export function all<K extends Kind>(kind: K): ReadonlySignal<readonly Entity<K>[]> {
  let list = lists.get(kind);
  if (!list) {
    list = computed(() => {
      revision_of(kind).value;
      return shown_of_kind(kind)
        .filter(({ gone }) => !gone)
        .map(({ entity }) => entity);
    });
    lists.set(kind, list);
  }
  return list as unknown as ReadonlySignal<readonly Entity<K>[]>;
}

/** Returns one record, or undefined if it is not on this phone or is deleted. */
export function one<K extends Kind>(kind: K, id: string): ReadonlySignal<Entity<K> | undefined> {
  const key = `${kind} ${id}`;
  let single = singles.get(key);
  if (!single) {
    single = computed(() => {
      revision_of(kind).value;
      const state = states.get(id);
      const shown = state?.kind === kind ? show(state) : undefined;
      return shown && !shown.gone && !hidden.value.has(id) ? shown.entity : undefined;
    });
    singles.set(key, single);
  }
  return single as ReadonlySignal<Entity<K> | undefined>;
}

/**
 * Returns the records of a kind that somebody should look at: two writes, an unseen edit, or a field
 * that cannot be read.
 */
export function needing_a_look<K extends Kind>(kind: K): ReadonlySignal<readonly Entity<K>[]> {
  return computed(() => {
    revision_of(kind).value;
    return shown_of_kind(kind)
      .filter(({ entity, gone }) =>
        gone ? entity.edited_meanwhile : entity.heads || entity.unread,
      )
      .map(({ entity }) => entity as Entity<K>);
  });
}

/** Every record of any kind that somebody should look at. */
export const everything_to_look_at = computed(() =>
  every_kind.flatMap((kind) => needing_a_look(kind).value as readonly Entity[]),
);

function shown_of_kind(kind: Kind) {
  return [...states.values()]
    .filter((state) => state.kind === kind && !hidden.value.has(state.id))
    .map(show)
    .sort(({ entity: a }, { entity: b }) =>
      a.created_at === b.created_at ? (a.id < b.id ? -1 : 1) : a.created_at < b.created_at ? -1 : 1,
    );
}

function revision_of(kind: string): Signal<number> {
  let revision = revisions.get(kind);
  if (!revision) {
    revision = signal(0);
    revisions.set(kind, revision);
  }
  return revision;
}

/** Returns a record's state on this phone, deleted or not. */
export function state_of(id: string): State | undefined {
  return states.get(id);
}

/** Returns when a field of a record was last written, and by whom; undefined where it never was. */
export function written_last(id: string, field: string): { at: string; by: string } | undefined {
  const head = states.get(id)?.fields[field]?.heads.at(-1);
  return head && { at: stamp_time(head.eff), by: head.by };
}

/** Returns the number of this phone's last operation that has been taken into the view. */
export function known_seq(): number {
  return last_seq;
}

/** Adds kept operations to the view; known ones change nothing. */
export function take(operations: readonly Operation[]): void {
  const moved = new Set<string>();
  for (const op of operations) {
    const kind = fold_in(op);
    if (kind) moved.add(kind);
    fresh.push(op);
    last_seq = Math.max(last_seq, op.device_seq);
  }
  const [first] = operations;
  // A new phone gets its identity with its first write.
  if (first && !device_here.peek()) device_here.value = read_stamp(first.hlc).device_id;
  if (first) written.value += 1;
  for (const kind of moved) revision_of(kind).value += 1;
}

function fold_in(op: Operation, eff?: string): string | undefined {
  const state = fold(states.get(op.entity_id), upcast(op), eff);
  if (state) states.set(op.entity_id, state);
  return state?.kind;
}

let channel: BroadcastChannel | undefined;

function listen(): void {
  if (channel || typeof BroadcastChannel === "undefined") return;
  channel = new BroadcastChannel(named_here("basinside.records"));
  // Another window's writes are read from the store, never from its message.
  channel.onmessage = ({ data }: MessageEvent<Told>) => {
    const reading = data.came_in
      ? look_again(data.ids)
      : written_after(last_seq).then((operations) => take(operations));
    reading.catch(() => undefined);
  };
  (channel as { unref?: () => void }).unref?.();
}

/** One window's message to the others: it has written, or records have come in. */
type Told = { came_in: false } | { came_in: true; ids?: readonly string[] };

/** Tells the other windows of this phone that something was kept. */
export function tell_other_windows(told: Told = { came_in: false }): void {
  channel?.postMessage(told);
}

/** Forgets everything read, as a reload would. */
export function close_records(): void {
  channel?.close();
  channel = undefined;
  states.clear();
  last_seq = 0;
  fresh = [];
  opening = undefined;
  ready.value = false;
  for (const revision of revisions.values()) revision.value += 1;
}
