// A record as it travels and as it is folded here: the same state in two shapes.

import type { Change, Made, StandingWrite } from "../api/shapes";
import type { State, Write } from "../records/fold";

/** A record as the server last gave it, and in which history that was. */
export type Based = State & { readonly epoch: string };

/** Returns the state that a change carries. */
export function state_of_change(change: Change, epoch: string): Based {
  const { heads = {}, covered = {}, created = [] } = change;
  const names = new Set([change.fields, heads, covered].flatMap(Object.keys));
  const fields: Record<string, State["fields"][string]> = {};
  for (const name of names) {
    const single = change.fields[name];
    const standing = heads[name] ?? (single ? [single] : []);
    fields[name] = { heads: standing.map(write_of), covered: covered[name] ?? {} };
  }
  return {
    id: change.entity_id,
    kind: change.kind,
    created: created.map(write_of),
    fields,
    epoch,
  };
}

/** Returns a state as it travels: the inverse of `state_of_change`. */
export function change_of_state({ id, kind, created, fields }: State): Change {
  const single: Record<string, StandingWrite> = {};
  const several: Record<string, StandingWrite[]> = {};
  const covered: Record<string, Record<string, number>> = {};
  for (const [name, state] of Object.entries(fields)) {
    const [first, ...others] = state.heads;
    if (first && others.length === 0) single[name] = first;
    else if (first) several[name] = [...state.heads];
    if (Object.keys(state.covered).length > 0) covered[name] = state.covered;
  }
  return {
    entity_id: id,
    kind,
    seq: 0,
    gone: fields.gone?.heads.some(({ v }) => v !== null) ?? false,
    fields: single,
    heads: several,
    created: created.map(({ op, eff, by }) => ({ op, eff, by })),
    covered,
  };
}

/** Returns every standing write of a record, by its operation. */
export function standing_ops({ created, fields }: State): string[] {
  const heads = Object.values(fields).flatMap((state) => state.heads);
  return [...new Set([...created, ...heads].map(({ op }) => op))];
}

function write_of({ op, v = null, eff, by, clock }: Made & Partial<StandingWrite>): Write {
  return { op, v, eff, by, ...(clock && { clock }) };
}
