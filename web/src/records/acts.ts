// What was done on this phone today: each act can be taken back, and done again, until midnight.
//
// An act is kept as a row of the strict store, so a reload does not end what can be taken back. The
// row's key names the records, so that erasing one of them erases the row.
import { computed, type ReadonlySignal, signal } from "@preact/signals";
import { all_drafts, put_draft } from "../outbox/drafts";
import type { Operation } from "../outbox/operation";
import { fold, kind_words, parts_of, type State } from "./fold";
import { all, hidden_here, state_of } from "./read";
import { show } from "./show";
import { type Act, type PutBack, remember_put_back } from "./undo";

/** An act in the list of the day. */
export interface DoneAct extends Act {
  readonly id: string;
  readonly at_ms: number;
  /** What took it back, while it is taken back. */
  readonly undone?: Act;
}

/** The act that the page speaks of. */
export interface LastAct {
  id: string;
  words: string;
  state: "done" | "undone";
  /** Set where taking it back would hide later work: what that is, in words. */
  asks?: string;
}

const SHOWN_MS = 10_000;
const MOST_ACTS = 200;
const ROW = "act/";

const list = signal<readonly DoneAct[]>([]);
/** The acts of the day, the newest last; none about somebody who is hidden or was erased. */
export const day_acts: ReadonlySignal<readonly DoneAct[]> = computed(() =>
  list.value.filter((act) => is_shown(act, hidden_here.value)),
);

const last = signal<LastAct | null>(null);
/** The last act, for ten seconds or until the next one. */
export const last_act: ReadonlySignal<LastAct | null> = computed(() =>
  day_acts.value.some(({ id }) => id === last.value?.id) ? last.value : null,
);

/** For each write of an undo, the earlier write whose value it put back. */
export const put_back: PutBack = new Map();

let fading: ReturnType<typeof setTimeout> | undefined;

/** Speaks of an act for ten seconds; a question stays until it is answered. */
export function speak_of(act: DoneAct, asks?: string): void {
  clearTimeout(fading);
  const state = act.undone ? "undone" : "done";
  last.value = { id: act.id, words: act_words(act), state, ...(asks && { asks }) };
  if (!asks) fading = setTimeout(let_act_be, SHOWN_MS);
}

/** Stops speaking of the last act; it stays in the list of the day. */
export function let_act_be(): void {
  clearTimeout(fading);
  last.value = null;
}

/** Adds an act to the day, or puts it in the place of the one with its id. */
export function put_act(act: DoneAct): void {
  const others = list.peek().filter(({ id }) => id !== act.id);
  list.value = [...others, act].sort((a, b) => a.at_ms - b.at_ms).slice(-MOST_ACTS);
  const { before, undone, ...rest } = act;
  const row = { ...rest, before: [...before], undone: undone && as_row(undone) };
  // What can be taken back after a reload is a convenience: the act itself is kept already.
  put_draft(key_of(act), JSON.stringify(row)).catch(() => undefined);
}

/** Forgets the acts about any of these records, which were erased; their rows go with them. */
export function forget_acts_about(ids: ReadonlySet<string>): void {
  for (const act of list.peek()) {
    if (names_of(act).some((id) => ids.has(id))) put_draft(key_of(act), undefined).catch(() => {});
  }
  list.value = list.peek().filter((act) => !names_of(act).some((id) => ids.has(id)));
}

function is_shown(act: Act, hidden: ReadonlySet<string>): boolean {
  const there = act.operations.every(({ entity_id }) => state_of(entity_id) !== undefined);
  return there && !names_of(act).some((id) => hidden.has(id));
}

/** Returns the records that an act's operations are about or point at. */
function names_of({ operations }: Act): string[] {
  return operations.flatMap(({ entity_id, fields = {} }) => [
    entity_id,
    ...Object.values(fields).filter((v): v is string => typeof v === "string"),
  ]);
}

/** Returns the newest act that is not taken back, or the one with an id. */
export function act_of(id?: string): DoneAct | undefined {
  return id
    ? list.peek().find((act) => act.id === id)
    : list.peek().findLast(({ undone }) => !undone);
}

/** Reads the acts of today that were done before this page was opened; older ones are dropped. */
export async function open_acts(now_ms: number): Promise<void> {
  const midnight_ms = new Date(now_ms).setHours(0, 0, 0, 0);
  const found: DoneAct[] = [];
  for (const [key, text] of await all_drafts()) {
    if (!key.startsWith(ROW)) continue;
    const act = act_in(text);
    if (act && act.at_ms >= midnight_ms) found.push(act);
    else await put_draft(key, undefined);
  }
  for (const { undone } of found) {
    if (undone) remember_put_back(undone, undone.operations, put_back);
  }
  const here = new Set(list.peek().map(({ id }) => id));
  const earlier = found.filter(({ id }) => !here.has(id));
  list.value = [...earlier, ...list.peek()].sort((a, b) => a.at_ms - b.at_ms).slice(-MOST_ACTS);
}

/** Returns what was done since with the records that an act made, in words; empty for nothing. */
export function worked_on_since(act: Act): string {
  for (const op of act.operations) {
    if (parts_of(op).verb !== "create") continue;
    const now = state_of(op.entity_id);
    if (!now || show(now).gone) continue;
    const made = act.operations
      .filter(({ entity_id }) => entity_id === op.entity_id)
      .reduce<State | undefined>((state, one) => fold(state, one), undefined);
    const changed = made && fields_of(made) !== fields_of(now);
    if (changed || has_more(op.entity_id, act)) {
      return `This ${kind_words(parts_of(op).of)} was worked on since. Taking it back hides that too.`;
    }
  }
  return "";
}

/** Whether a zone or a note belongs to a record and came with another act. */
function has_more(id: string, act: Act): boolean {
  const own = new Set(act.operations.map(({ entity_id }) => entity_id));
  return (["zone", "note"] as const).some((kind) =>
    all(kind).value.some((one) => one.service === id && !own.has(one.id)),
  );
}

function fields_of(state: State): string {
  const { heads: _, ...entity } = show(state).entity;
  return JSON.stringify(Object.entries(entity).sort(([a], [b]) => (a < b ? -1 : 1)));
}

const VERBS: Record<string, string> = {
  create: "Added",
  gone: "Deleted",
  restore: "Brought back",
};

/** Returns what an act was, in words: "Changed a client: phone." */
export function act_words(act: Act): string {
  if (act.said) return act.said;
  const op = act.operations[0];
  if (!op) return "";
  const { of, verb } = parts_of(op);
  const records = new Set(act.operations.map(({ entity_id }) => entity_id)).size;
  const kind = kind_words(of);
  const a = /^[aeiou]/.test(kind) ? "an" : "a";
  const fields = Object.keys(op.fields ?? {}).map((f) =>
    (f.split(".")[0] ?? f).replaceAll("_", " "),
  );
  const what =
    verb in VERBS
      ? `${VERBS[verb]} ${a} ${kind}`
      : `Changed ${a} ${kind}: ${[...new Set(fields)].join(", ")}`;
  return records > 1 ? `${what}, and ${records - 1} more.` : `${what}.`;
}

function key_of({ id, operations }: DoneAct): string {
  const records = [...new Set(operations.map(({ entity_id }) => entity_id))];
  return `${ROW}${id}/${records.join(",")}`;
}

interface Row {
  said?: string;
  operations: readonly Operation[];
  before: [string, State | undefined][];
}

function as_row({ before, ...rest }: Act): Row {
  return { ...rest, before: [...before] };
}

function act_in(text: string): DoneAct | undefined {
  try {
    const { before, undone, ...rest } = JSON.parse(text) as Row & {
      id: string;
      at_ms: number;
      undone?: Row;
    };
    const back = undone && { ...undone, before: new Map(undone.before) };
    return { ...rest, before: new Map(before), ...(back && { undone: back }) };
  } catch {
    return undefined;
  }
}
