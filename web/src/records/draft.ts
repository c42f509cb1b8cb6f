// Turns a person's changes into operations, against the record as it is now.
import type { Unstamped } from "../outbox/operation";
import {
  blank_word,
  caution_of,
  type Kind,
  kind_words,
  merge_of,
  SCHEMA,
  type State,
  shown_of,
} from "./fold";
import type { Writing } from "./shapes";

/** One thing a person does to one record. */
export type Change<K extends Kind = Kind> =
  | { do: "create"; kind: K; id: string; fields: Writing<K> }
  | { do: "change"; kind: K; id: string; fields: Writing<K>; over?: readonly string[] }
  | { do: "remove" | "restore"; kind: K; id: string }
  /** Lowers a safety fact: what was seen, and why it may fall. */
  | {
      do: "clear";
      kind: K;
      id: string;
      fields: Writing<K>;
      saw: string;
      why: string;
      /** The writes it replaces, by their operations; without it, every standing write. */
      over?: readonly string[];
    };

/** Thrown if a safety fact would fall without a decision; says what to do instead. */
export class CautionNeedsDecision extends Error {
  constructor(
    readonly field: string,
    from: unknown,
    to: unknown,
  ) {
    super(
      `"${from}" is on record and "${to}" says less. Say what you saw and why it may be cleared.`,
    );
  }
}

type Values = Record<string, unknown>;

/** Returns the operations of one change; none where it would change nothing. */
export function drafts_of(change: Change, now: State | undefined, by: string): Unstamped[] {
  const { kind, id } = change;
  const whose = { entity_id: id, by, schema: SCHEMA };
  switch (change.do) {
    case "remove":
      return [
        {
          ...whose,
          kind: `${kind}.gone`,
          seen: every_head(now),
          base: { gone: heads(now, "gone") },
        },
      ];
    case "restore":
      return [{ ...whose, kind: `${kind}.restore`, base: { gone: heads(now, "gone") } }];
    case "create": {
      const { plain, answers } = sorted_by_rule(kind, change.fields, undefined);
      const creation = { ...whose, kind: `${kind}.create`, fields: plain };
      return [creation, ...answering(answers, undefined, whose)];
    }
    case "change": {
      const { plain, answers } = sorted_by_rule(kind, change.fields, now);
      const set =
        Object.keys(plain).length === 0
          ? []
          : [written(plain, now, `${kind}.set`, whose, change.over)];
      return [...set, ...answering(answers, now, whose)];
    }
    case "clear": {
      const { saw, why } = change;
      const clear = written(change.fields as Values, now, "safety.clear", whose, change.over);
      return [{ ...clear, saw, why }];
    }
  }
}

type Whose = Pick<Unstamped, "entity_id" | "by" | "schema">;

function written(
  fields: Values,
  now: State | undefined,
  kind: string,
  whose: Whose,
  over?: readonly string[],
): Unstamped {
  const base: Record<string, string[]> = {};
  const from: Record<string, string> = {};
  for (const field of Object.keys(fields)) {
    base[field] = heads(now, field).filter((op) => !over || over.includes(op));
    const rule = merge_of(now?.kind ?? kind, field);
    if (rule === "safety") from[field] = word_now(now, field);
  }
  return { ...whose, kind, fields, base, ...(Object.keys(from).length > 0 && { from }) };
}

/** Makes a first answer to a safety question: an operation of its own that names who asked. */
function answering(answers: Values, now: State | undefined, whose: Whose): Unstamped[] {
  if (Object.keys(answers).length === 0) return [];
  const op = written(answers, now, "safety.answer", whose);
  const from = Object.fromEntries(Object.keys(answers).map((f) => [f, word_now(now, f)]));
  return [{ ...op, from, asked_by: whose.by }];
}

/** Splits the fields that really change into plain ones and first answers to safety questions. */
function sorted_by_rule(kind: Kind, fields: Writing<Kind>, now: State | undefined) {
  const plain: Values = {};
  const answers: Values = {};
  for (const [field, v] of Object.entries(split(kind, fields as Values, now))) {
    if (v === undefined || stands_already(kind, field, v, now)) continue;
    const rule = merge_of(kind, field);
    if (rule === "fixed" && now) {
      throw new TypeError(
        `The ${field} of a ${kind_words(kind)} stays as it was made: make a new one.`,
      );
    }
    if (rule !== "safety") {
      plain[field] = v;
      continue;
    }
    const from = word_now(now, field);
    if (caution_of(field, v) >= caution_of(field, from)) plain[field] = v;
    else if (is_blank(field, from)) answers[field] = v;
    else throw new CautionNeedsDecision(field, from, v);
  }
  return { plain, answers };
}

/** Writes an object key by key if its keys merge apart; a key that is left out is taken away. */
function split(kind: Kind, fields: Values, now: State | undefined): Values {
  const flat: Values = {};
  for (const [field, v] of Object.entries(fields)) {
    if (merge_of(kind, field) !== "each" || field.includes(".")) {
      flat[field] = v;
      continue;
    }
    const whole = (v ?? {}) as Values;
    for (const known of Object.keys(now?.fields ?? {})) {
      if (known.startsWith(`${field}.`)) flat[known] = null;
    }
    for (const [key, value] of Object.entries(whole)) flat[`${field}.${key}`] = value;
  }
  return flat;
}

/** Whether a field needs no write: one standing write says this already. Of two, one is chosen. */
function stands_already(kind: Kind, field: string, v: unknown, now: State | undefined): boolean {
  const standing = now?.fields[field]?.heads ?? [];
  if (standing.length > 1) return false;
  const before = shown_of(field, merge_of(kind, field), standing)?.v ?? null;
  return JSON.stringify(before) === JSON.stringify(v);
}

/** Returns the word of a safety fact as it is shown, or the one for "nobody has asked". */
function word_now(now: State | undefined, field: string): string {
  const shown = shown_of(field, "safety", now?.fields[field]?.heads ?? []);
  return (shown?.v ?? blank_word(field)) as string;
}

function is_blank(field: string, word: string): boolean {
  return caution_of(field, word) <= caution_of(field, "unknown");
}

function heads(now: State | undefined, field: string): string[] {
  return (now?.fields[field]?.heads ?? []).map(({ op }) => op);
}

function every_head(now: State | undefined): string[] {
  const fields = Object.entries(now?.fields ?? {}).filter(([field]) => field !== "gone");
  return [...new Set(fields.flatMap(([, state]) => state.heads.map(({ op }) => op)))];
}
