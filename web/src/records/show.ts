// Shows a record: one value for each field, and the fields that somebody should look at.
import { stamp_time } from "../outbox/clock";
import { is_known, misfit } from "./checked";
import { type Kind, type Merge, merge_of, type State, shown_of, type Write } from "./fold";
import type { Entity } from "./shapes";

const shown_before = new WeakMap<State, Shown>();

export interface Shown {
  entity: Entity;
  gone: boolean;
}

/** Returns a record as a screen shows it; the same object for the same state. */
export function show(state: State): Shown {
  let shown = shown_before.get(state);
  if (!shown) {
    shown = shown_anew(state);
    shown_before.set(state, shown);
  }
  return shown;
}

/** Forgets how a record was shown, so that it is looked at again. */
export function forget_shown(state: State): void {
  shown_before.delete(state);
}

function shown_anew({ id, kind, created, fields }: State): Shown {
  const values: Record<string, unknown> = {};
  const heads: Record<string, readonly Write[]> = {};
  const unread: Record<string, readonly Write[]> = {};
  for (const [field, state] of Object.entries(fields)) {
    if (field === "gone") continue;
    if (!is_known(kind, field)) continue; // A newer app knows what it is.
    const rule = merge_of(kind, field);
    const wrong = state.heads.filter(({ v }) => misfit(kind, field, v) !== null);
    if (wrong.length > 0) unread[field] = wrong;
    // What guards somebody counts as most careful, and so it shows.
    const readable =
      rule === "safety" ? state.heads : state.heads.filter((h) => !wrong.includes(h));
    const shown = shown_of(field, rule, readable);
    if (shown && shown.v !== null) put(values, field, rule === "each", as_shown(rule, shown.v));
    if (asks(rule, readable)) heads[field] = readable;
  }
  const deletions = deletions_of(fields);
  const gone = deletions.length > 0;
  const first = created[0] ?? earliest(fields);
  const entity = {
    // A decision's own `by` names the person who took it, so the fields come last.
    by: first?.by ?? "",
    ...values,
    id,
    kind: kind as Kind,
    created_at: first ? stamp_time(first.eff) : "",
    ...(Object.keys(heads).length > 0 && { heads }),
    ...(Object.keys(unread).length > 0 && { unread }),
    ...(created.length === 0 && { incomplete: true as const }),
    ...(gone && unseen_by(deletions, fields).length > 0 && { edited_meanwhile: true as const }),
  };
  return { entity: entity as unknown as Entity, gone };
}

function as_shown(rule: Merge, v: unknown): unknown {
  return rule === "safety" && typeof v !== "string" ? JSON.stringify(v) : v;
}

/** Puts "answers.pregnant" into the object `answers`, and any other field under its name. */
function put(values: Record<string, unknown>, field: string, each: boolean, v: unknown): void {
  const dot = each ? field.indexOf(".") : -1;
  if (dot < 0) {
    values[field] = v;
    return;
  }
  const whole = field.slice(0, dot);
  values[whole] = { ...(values[whole] as object | undefined), [field.slice(dot + 1)]: v };
}

/** Returns whether a person should choose; an ordinary field asks only after a wrong clock. */
function asks(rule: Merge, heads: readonly Write[]): boolean {
  const [first, ...others] = heads;
  const differ = others.some(({ v }) => JSON.stringify(v) !== JSON.stringify(first?.v));
  return differ && (rule === "text" || rule === "safety" || heads.some(({ clock }) => clock));
}

function earliest(fields: State["fields"]): Write | undefined {
  const heads = Object.values(fields).flatMap((field) => field.heads);
  return heads.reduce<Write | undefined>(
    (least, head) => (least && least.eff <= head.eff ? least : head),
    undefined,
  );
}

/** Returns the standing writes that no deleter had seen, by their field. */
function unseen_by(deletions: readonly Write[], fields: State["fields"]): [string, Write][] {
  const seen = new Set(deletions.flatMap(({ v }) => (Array.isArray(v) ? v : [])));
  return Object.entries(fields).flatMap(([field, { heads }]) =>
    field === "gone"
      ? []
      : heads.filter(({ op }) => !seen.has(op)).map((head): [string, Write] => [field, head]),
  );
}

/** Returns the deletions of a record that hold, and the writes they had not seen. */
export function unseen_of({ fields }: State) {
  const deletions = deletions_of(fields);
  return { deletions, edits: unseen_by(deletions, fields) };
}

function deletions_of(fields: State["fields"]): readonly Write[] {
  return (fields.gone?.heads ?? []).filter(({ v }) => v !== null);
}
