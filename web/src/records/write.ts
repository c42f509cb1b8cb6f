// The one way to change a record. Each of these resolves once it is kept on this phone, and only
// then; where it cannot be kept it throws, the screen keeps its text, and a file is offered.
import { v5 as uuidv5, v7 as uuidv7 } from "uuid";
import { MOST_OPERATION_BYTES, type Operation } from "../outbox/operation";
import { keep_meta, record, type Stamp } from "../outbox/operations";
import { act_of, act_words, put_act, put_back, speak_of, worked_on_since } from "./acts";
import { type Change, drafts_of } from "./draft";
import { fold, type Kind, type State } from "./fold";
import {
  author_here,
  known_seq,
  open_records,
  state_of,
  take,
  tell_other_windows,
  writer_here,
} from "./read";
import type { Writing } from "./shapes";
import { type Act, remember_put_back, undoing } from "./undo";
import { keeping } from "./unkept";

export { blob_of, keep_blob } from "../outbox/photos";
export { type DoneAct, day_acts, last_act, let_act_be } from "./acts";
export { CautionNeedsDecision, type Change } from "./draft";
export { type KeptState, kept_state, let_unkept_go, NotKept } from "./unkept";

// A name space of our own, so that a setting has the same id on every phone.
const SETTINGS = "6f2f3b0e-1f0a-5c59-9d0a-3c1a5f9f7c11";

/** Returns an id for a new record. */
export function new_id(): string {
  return uuidv7();
}

/** Makes a record and returns its id. */
export async function create<K extends Kind>(
  kind: K,
  fields: Writing<K>,
  id: string = new_id(),
): Promise<string> {
  await together([{ do: "create", kind, id, fields } as Change]);
  return id;
}

/** Changes fields of a record; `null` takes a value away. */
export async function change<K extends Kind>(
  kind: K,
  id: string,
  fields: Writing<K>,
  said?: string | null,
): Promise<void> {
  await together([{ do: "change", kind, id, fields } as Change], said);
}

/** Deletes a record; it can be brought back. */
export async function remove(kind: Kind, id: string): Promise<void> {
  await together([{ do: "remove", kind, id }]);
}

/** Brings a deleted record back. */
export async function restore(kind: Kind, id: string): Promise<void> {
  await together([{ do: "restore", kind, id }]);
}

/** Lowers a safety fact, which takes a decision: what was seen, and why it may be cleared. */
export async function clear<K extends Kind>(
  kind: K,
  id: string,
  fields: Writing<K>,
  saw: string,
  why: string,
): Promise<void> {
  await together([{ do: "clear", kind, id, fields, saw, why } as Change]);
}

/** Keeps a setting of the salon under its key, the same record on every phone; `said` names it. */
export async function set_setting(key: string, value: unknown, said: string): Promise<void> {
  await together([setting_change(key, value)], said);
}

/** Returns the change that keeps a setting, to be made together with others. */
export function setting_change(key: string, value: unknown): Change {
  const id = setting_id(key);
  return state_of(id)?.created.length
    ? { do: "change", kind: "setting", id, fields: { value } }
    : { do: "create", kind: "setting", id, fields: { key, value } };
}

/** Returns the id of a setting's record. */
export function setting_id(key: string): string {
  return uuidv5(key, SETTINGS);
}

/** Says who writes on this phone from now on. */
export async function set_writer(person_id: string): Promise<void> {
  await keep_meta("writer", person_id);
  writer_here.value = person_id;
  tell_other_windows({ came_in: true, ids: [] });
}

/**
 * Makes several changes, all or none, as one act that one undo takes back. `said` is the act in
 * words; without it the records say it. With null it is no act of its own: a change that follows an
 * entry is not undone apart from it.
 */
export async function together(changes: readonly Change[], said?: string | null): Promise<void> {
  await in_turn(async () => {
    const act = await keep(changes);
    if (said === null || act.operations.length === 0) return;
    const done = { ...act, ...(said && { said }), id: new_id(), at_ms: Date.now() };
    put_act(done);
    speak_of(done);
  });
}

/**
 * Takes an act back, the last one without an id, and returns what was undone in words. Null where
 * there is nothing to undo, or where the page has to ask first: later work would be hidden too.
 */
export function undo(id?: string, sure = false): Promise<string | null> {
  return in_turn(async () => {
    const act = act_of(id);
    if (!act || act.undone) return null;
    const later = sure ? "" : worked_on_since(act);
    if (later) {
      speak_of(act, later);
      return null;
    }
    const undone = await keep(undoing(act, state_of, put_back));
    remember_put_back(act, undone.operations, put_back);
    const back = { ...act, undone };
    put_act(back);
    speak_of(back);
    return `Undone: ${lower_first(act_words(act))}`;
  });
}

/** Does an act again that was taken back; what somebody has changed since stays as it is. */
export function redo(id: string): Promise<void> {
  return in_turn(async () => {
    const act = act_of(id);
    if (!act?.undone) return;
    const { operations } = await keep(undoing(act.undone, state_of, put_back));
    remember_put_back(act.undone, operations, put_back);
    const { undone: _, ...again } = act;
    put_act(again);
    speak_of(again);
  });
}

let turn: Promise<unknown> = Promise.resolve();

/** One write after another: each rests on the one before it. */
function in_turn<Made>(work: () => Promise<Made>): Promise<Made> {
  const mine = turn.then(work);
  turn = mine.catch(() => undefined);
  return mine;
}

async function keep(changes: readonly Change[]): Promise<Act> {
  const unkept = keeping(changes);
  let before = new Map<string, State | undefined>();
  try {
    await open_records();
    const operations = await record(known_seq, (missed, stamp, device_id) => {
      take(missed);
      before = new Map(changes.map(({ id }) => [id, state_of(id)]));
      // If nobody was chosen, the phone itself is the only known author.
      const by = author_here.peek() || device_id;
      return operations_of(changes, new Map(before), by, stamp);
    });
    take(operations);
    unkept.kept();
    tell_other_windows();
    return { operations, before };
  } catch (why) {
    throw unkept.failed(why);
  }
}

/** Drafts and stamps changes one after the other, each on the record as the last has left it. */
function operations_of(
  changes: readonly Change[],
  states: Map<string, State | undefined>,
  by: string,
  stamp: Stamp,
): Operation[] {
  return changes.flatMap((change) =>
    drafts_of(change, states.get(change.id), by).map((draft) => {
      const op = stamp(draft);
      refuse_too_large(op);
      states.set(change.id, fold(states.get(change.id), op));
      return op;
    }),
  );
}

function refuse_too_large(op: Operation): void {
  const bytes = new TextEncoder().encode(JSON.stringify(op)).length;
  if (bytes <= MOST_OPERATION_BYTES) return;
  const [kb, most_kb] = [Math.ceil(bytes / 1024), MOST_OPERATION_BYTES / 1024];
  throw new RangeError(`This is ${kb} KB of text, and ${most_kb} KB is the most. Split it in two.`);
}

function lower_first(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
