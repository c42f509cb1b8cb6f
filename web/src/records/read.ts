// The records on this phone: what the server last gave, with all that was written here since.
import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Operation } from "../outbox/operation";
import { held, written_after } from "../outbox/operations";
import { fold, type Kind, type State } from "./fold";
import type { Entity } from "./shapes";
import { show } from "./show";
import { upcast } from "./upcast";

const states = new Map<string, State>();
/** For each kind, a number that moves on whenever a record of it has changed. */
const revisions = new Map<string, Signal<number>>();
const lists = new Map<string, ReadonlySignal<readonly Entity[]>>();
const singles = new Map<string, ReadonlySignal<Entity | undefined>>();

let last_seq = 0;
let opening: Promise<void> | undefined;

const ready = signal(false);
/** False until what is on this phone has been read: an empty list says nothing before that. */
export const records_ready: ReadonlySignal<boolean> = ready;

/** Who writes on this phone: a person's id, or empty until somebody was chosen. */
export const writer_here = signal("");

/** Reads what is on this phone, once; a failure is thrown, and the next call tries again. */
export function open_records(): Promise<void> {
  opening ??= read_all().catch((why: unknown) => {
    opening = undefined;
    throw why;
  });
  return opening;
}

async function read_all(): Promise<void> {
  const { device, writer, base, operations } = await held();
  for (const state of base as State[]) states.set(state.id, state);
  writer_here.value = writer ?? "";
  take(operations);
  last_seq = Math.max(last_seq, device?.device_seq ?? 0);
  listen();
  ready.value = true;
}

/** Reads anew what is on this phone, where something has come in that was not written here. */
export async function read_again(): Promise<void> {
  const { base, operations } = await held();
  for (const state of base as State[]) if (!states.has(state.id)) states.set(state.id, state);
  take(operations);
}

/** Returns every record of a kind that is not gone, in the order they were made. */
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

/** Returns one record, or undefined while it is not on this phone or once it is gone. */
export function one<K extends Kind>(kind: K, id: string): ReadonlySignal<Entity<K> | undefined> {
  const key = `${kind} ${id}`;
  let single = singles.get(key);
  if (!single) {
    single = computed(() => {
      revision_of(kind).value;
      const state = states.get(id);
      const shown = state?.kind === kind ? show(state) : undefined;
      return shown && !shown.gone ? shown.entity : undefined;
    });
    singles.set(key, single);
  }
  return single as ReadonlySignal<Entity<K> | undefined>;
}

/** Returns the records of a kind that somebody should look at: two writings, or an edit unseen. */
export function needing_a_look<K extends Kind>(kind: K): ReadonlySignal<readonly Entity<K>[]> {
  return computed(() => {
    revision_of(kind).value;
    return shown_of_kind(kind)
      .filter(({ entity, gone }) => (gone ? entity.edited_meanwhile : entity.heads))
      .map(({ entity }) => entity as Entity<K>);
  });
}

function shown_of_kind(kind: Kind) {
  return [...states.values()]
    .filter((state) => state.kind === kind)
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

/** Returns a record's state as it stands on this phone, gone or not. */
export function state_of(id: string): State | undefined {
  return states.get(id);
}

/** Returns the number of this phone's last operation that has been taken into the view. */
export function known_seq(): number {
  return last_seq;
}

/** Takes operations that are kept into the view; what is there already changes nothing. */
export function take(operations: readonly Operation[]): void {
  const moved = new Set<string>();
  for (const op of operations) {
    const state = fold(states.get(op.entity_id), upcast(op));
    if (state) {
      states.set(op.entity_id, state);
      moved.add(state.kind);
    }
    last_seq = Math.max(last_seq, op.device_seq);
  }
  for (const kind of moved) revision_of(kind).value += 1;
}

let channel: BroadcastChannel | undefined;

function listen(): void {
  if (channel || typeof BroadcastChannel === "undefined") return;
  channel = new BroadcastChannel("basinside.records");
  channel.onmessage = () => {
    // What another window has kept is read from the store, never from its message.
    written_after(last_seq).then(take, () => undefined);
  };
  (channel as { unref?: () => void }).unref?.();
}

/** Tells the other windows of this phone that something was kept. */
export function tell_other_windows(): void {
  channel?.postMessage(last_seq);
}

/** Forgets everything read, as a reload would. */
export function close_records(): void {
  channel?.close();
  channel = undefined;
  states.clear();
  last_seq = 0;
  opening = undefined;
  ready.value = false;
  for (const revision of revisions.values()) revision.value += 1;
}
