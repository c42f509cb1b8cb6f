// Folds all writes of a record into its state, the same in whatever order they came.
//
// A field's state is its standing writes: the writes that no other write of the field names as
// seen. That is a question of sets, so order, repetition and delay change nothing. Two rules guard
// safety. A plain write of a safety fact replaces the writes it saw only as far as it is as
// cautious as they are. A write that says less than its author saw counts for nothing without a
// clear. `service/records/fold.py` is the same in Python, and tests/vectors compares the two.
import type { Operation } from "../outbox/operation";
import table from "./fields.generated.json";

export type Kind = keyof typeof table.kinds;
export type Merge = "ordinary" | "text" | "safety" | "fixed" | "each";

/** One write of one field that no later write replaced. */
export interface Write {
  readonly op: string;
  readonly v: unknown;
  /** The stamp that orders it. */
  readonly eff: string;
  readonly by: string;
  /** Set if the writer's clock was known to be wrong. */
  readonly clock?: "off";
}

interface FieldState {
  readonly heads: readonly Write[];
  /** Writes named as seen, each with the greatest caution it may be covered up to. */
  readonly covered: Readonly<Record<string, number>>;
}

export interface State {
  readonly id: string;
  readonly kind: string;
  /** The creations: one, or none while it has not come yet. */
  readonly created: readonly Write[];
  readonly fields: Readonly<Record<string, FieldState>>;
}

interface KindTable {
  words: string;
  append_only: boolean;
  fields: Record<string, Merge>;
}
interface CautionTable {
  order: string[];
  blank: string[];
}

const KINDS = table.kinds as Record<string, KindTable>;
const CAUTION = table.caution as Record<string, CautionTable>;
export const SCHEMA = table.schema;
export const every_kind = Object.keys(KINDS) as Kind[];

/** The kind of an operation that only fills the number of one that could not be sent. */
export const SET_ASIDE = "set_aside";
const GONE = "gone";
const KIND_OF_SAFETY_FIELD = new Map(
  Object.entries(KINDS).flatMap(([kind, { fields }]) =>
    Object.entries(fields).flatMap(([field, rule]) =>
      rule === "safety" ? [[field, kind] as const] : [],
    ),
  ),
);

/** Returns the name of a kind in a sentence: "alert test". */
export function kind_words(kind: string): string {
  return KINDS[kind]?.words ?? kind;
}

/** Returns how a field merges; a field this app does not know is kept as an ordinary one. */
export function merge_of(kind: string, field: string): Merge {
  const dot = field.indexOf(".");
  return KINDS[kind]?.fields[dot < 0 ? field : field.slice(0, dot)] ?? "ordinary";
}

/** Returns the kind of record an operation is about, and the verb it carries. */
export function parts_of({ kind, fields = {} }: Pick<Operation, "kind" | "fields">): {
  of: string;
  verb: string;
} {
  const dot = kind.indexOf(".");
  const [of, verb] = [kind.slice(0, dot), kind.slice(dot + 1)];
  if (of !== "safety") return { of, verb };
  // Safety facts have names of their own, so the field says which fact it is.
  return { of: KIND_OF_SAFETY_FIELD.get(Object.keys(fields)[0] ?? "") ?? of, verb };
}

/** Returns the caution of a safety fact's word; an unknown word has the most. */
export function caution_of(field: string, word: unknown): number {
  const { order, blank } = CAUTION[field] ?? { order: [], blank: [] };
  const rank = order.indexOf((word ?? blank[0]) as string);
  return rank < 0 ? order.length : rank;
}

/** Returns the word of a safety fact that nobody has asked for. */
export function blank_word(field: string): string {
  return CAUTION[field]?.blank[0] ?? "unknown";
}

function most_blank(field: string): number {
  return Math.max(...(CAUTION[field]?.blank ?? []).map((word) => caution_of(field, word)));
}

/**
 * Returns the code an operation is refused with, or null. It looks only at the operation. If it
 * looked at the stored records, acceptance would depend on the order of arrival.
 */
export function refusal_of(op: Operation): string | null {
  const { of, verb } = parts_of(op);
  for (const [field, v] of Object.entries(op.fields ?? {})) {
    const rule = merge_of(of, field);
    if (rule === "fixed" && verb !== "create") return "field_invalid";
    if (rule !== "safety" || op.kind === "safety.clear") continue;
    // An operation without `base` has seen nothing, whatever `from` claims.
    const said = op.base?.[field]?.length ? op.from?.[field] : undefined;
    const [from, to] = [caution_of(field, said), caution_of(field, v)];
    const answers = op.kind === "safety.answer" && from <= most_blank(field);
    if (to < from && !answers) return "caution_needs_decision";
  }
  return op.kind === "safety.clear" && !(op.saw && op.why) ? "caution_needs_decision" : null;
}

/** Returns the caution up to which this operation's write may cover the writes it saw. */
function reach_of(op: Operation, rule: Merge, field: string, v: unknown): number {
  if (rule !== "safety") return 0;
  if (op.kind === "safety.clear") return CAUTION[field]?.order.length ?? 0;
  const own = caution_of(field, v);
  return op.kind === "safety.answer" ? Math.max(own, most_blank(field)) : own;
}

/** Returns the record after one more operation; a refused or repeated one changes nothing. */
export function fold(before: State | undefined, op: Operation, eff = op.hlc): State | undefined {
  if (op.kind === SET_ASIDE || refusal_of(op) !== null) return before;
  const { of, verb } = parts_of(op);
  const { op_id, by } = op;
  const { id, kind, ...held } = before ?? empty(op.entity_id, of);
  let { created } = held;
  const fields: Record<string, FieldState> = { ...held.fields };
  const write = (v: unknown): Write => ({ op: op_id, v, eff, by });
  if (verb === "create" && !created.some(({ op: known }) => known === op_id)) {
    created = sorted([...created, write(null)]);
  }
  const written: [string, unknown][] = Object.entries(op.fields ?? {});
  if (verb === "gone") written.push([GONE, op.seen ?? []]);
  if (verb === "restore") written.push([GONE, null]);
  for (const [field, v] of written) {
    const rule = merge_of(kind, field);
    const reach = reach_of(op, rule, field, v);
    fields[field] = merged(fields[field], field, rule, write(v), op.base?.[field] ?? [], reach);
  }
  return { id, kind, created, fields };
}

function empty(id: string, kind: string): State {
  return { id, kind, created: [], fields: {} };
}

function merged(
  before: FieldState | undefined,
  field: string,
  rule: Merge,
  write: Write,
  saw: readonly string[],
  reach: number,
): FieldState {
  const covered = saw.length > 0 ? { ...before?.covered } : (before?.covered ?? {});
  for (const op of saw) {
    (covered as Record<string, number>)[op] = Math.max(covered[op] ?? -1, reach);
  }
  const stands = ({ op, v }: Write) =>
    (covered[op] ?? -1) < (rule === "safety" ? caution_of(field, v) : 0);
  const others = (before?.heads ?? []).filter((head) => head.op !== write.op);
  return { heads: sorted([...others, write].filter(stands)), covered };
}

function sorted(writes: Write[]): Write[] {
  return writes.sort((a, b) => compare(a.eff, b.eff) || compare(a.op, b.op));
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Returns the write that shows among a field's standing writes, or undefined without any. */
export function shown_of(field: string, rule: Merge, heads: readonly Write[]): Write | undefined {
  if (rule === "fixed") return heads[0];
  if (rule !== "safety") return heads.at(-1);
  return heads.reduce<Write | undefined>(
    (most, head) => (most && caution_of(field, most.v) > caution_of(field, head.v) ? most : head),
    undefined,
  );
}
