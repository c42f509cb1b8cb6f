// Undoes an act by new operations, since no write is ever unwritten.
import type { Operation } from "../outbox/operation";
import type { Change } from "./draft";
import { caution_of, type Kind, merge_of, parts_of, type State, shown_of } from "./fold";

export interface Act {
  /** The act, in the words of its author. */
  readonly said?: string;
  operations: readonly Operation[];
  /** Each record that the act touched, as it was before. */
  before: ReadonlyMap<string, State | undefined>;
}

/**
 * For each write of an undo, the earlier write whose value it put back. So the act that made that
 * one can be undone next. Keyed by operation and field.
 */
export type PutBack = Map<string, string>;

/** Returns the changes that undo an act. A field that somebody has changed again since stays. */
export function undoing(
  act: Act,
  now: (id: string) => State | undefined,
  put_back: PutBack,
): Change[] {
  const created = new Set(
    act.operations.filter((op) => parts_of(op).verb === "create").map(({ entity_id }) => entity_id),
  );
  const changes: Change[] = [];
  for (const op of act.operations.toReversed()) {
    const { of, verb } = parts_of(op);
    const about = { kind: of as Kind, id: op.entity_id };
    if (verb === "create") changes.push({ do: "remove", ...about });
    else if (verb === "gone") changes.push({ do: "restore", ...about });
    else if (verb === "restore") changes.push({ do: "remove", ...about });
    else if (!created.has(op.entity_id)) {
      const before = act.before.get(op.entity_id);
      changes.push(...putting_back(op, about, before, now(op.entity_id), put_back));
    }
  }
  return changes;
}

function putting_back(
  op: Operation,
  about: { kind: Kind; id: string },
  before: State | undefined,
  now: State | undefined,
  put_back: PutBack,
): Change[] {
  const plain: Record<string, unknown> = {};
  const lowered: Record<string, unknown> = {};
  const over: string[] = [];
  for (const [field, v] of Object.entries(op.fields ?? {})) {
    const standing = now?.fields[field]?.heads ?? [];
    const ours = standing.find((head) => puts_back(head.op, op.op_id, field, put_back));
    if (!ours) continue;
    const old = write_before(about.kind, field, before)?.v ?? null;
    const falls =
      merge_of(about.kind, field) === "safety" && caution_of(field, old) < caution_of(field, v);
    (falls ? lowered : plain)[field] = old;
    over.push(ours.op);
  }
  const changes: Change[] = [];
  if (Object.keys(plain).length > 0) changes.push({ do: "change", ...about, fields: plain, over });
  if (Object.keys(lowered).length > 0) {
    const [saw, why] = ["a mistap", "undone by its author"];
    changes.push({ do: "clear", ...about, fields: lowered, saw, why, over });
  }
  return changes;
}

/** Remembers which earlier writes an undo's operations have put back. */
export function remember_put_back(
  act: Act,
  operations: readonly Operation[],
  put_back: PutBack,
): void {
  for (const op of operations) {
    for (const field of Object.keys(op.fields ?? {})) {
      const old = write_before(parts_of(op).of, field, act.before.get(op.entity_id));
      if (old) put_back.set(`${op.op_id} ${field}`, old.op);
    }
  }
}

function write_before(kind: string, field: string, before: State | undefined) {
  return shown_of(field, merge_of(kind, field), before?.fields[field]?.heads ?? []);
}

/** Whether a write is this one, or puts its value back by however many undos. */
function puts_back(op: string, wanted: string, field: string, put_back: PutBack): boolean {
  if (op === wanted) return true;
  const earlier = put_back.get(`${op} ${field}`);
  return earlier !== undefined && puts_back(earlier, wanted, field, put_back);
}
