import { beforeAll, expect, test } from "vitest";
import vectors from "../../../tests/vectors/fold.json";
import type { Operation } from "../outbox/operation";
import { bring_check } from "./checked";
import { fold, refusal_of, type State, shown_of } from "./fold";
import { show } from "./show";

interface Vector {
  name: string;
  operations: (Partial<Operation> & { op_id: string })[];
  shown: Record<string, unknown>;
  heads?: Record<string, unknown[]>;
  unread?: Record<string, string[]>;
  refused?: Record<string, string>;
  gone?: boolean;
  incomplete?: boolean;
  edited_meanwhile?: boolean;
}

/** The operations of a vector, which leave out what their place among them says. */
function operations_of(written: Vector["operations"]): Operation[] {
  // The same operation a second time is the same in every part.
  const places = [...new Set(written.map(({ op_id }) => op_id))];
  return written.map((shortened) => {
    const place = places.indexOf(shortened.op_id);
    const filled = {
      device_seq: place + 1,
      hlc: `2026-11-25T12:00:00.000Z-000${place}-01890a5d-ac96-774b-bcce-000000000001`,
      schema: 1,
      entity_id: "e1",
      by: "ana",
    };
    return { ...filled, ...shortened } as Operation;
  });
}

function orders<T>(items: T[]): T[][] {
  if (items.length < 2) return [items];
  return items.flatMap((item, at) =>
    orders([...items.slice(0, at), ...items.slice(at + 1)]).map((rest) => [item, ...rest]),
  );
}

beforeAll(bring_check);

test.each(vectors as Vector[])("$name", (vector) => {
  const operations = operations_of(vector.operations);
  const refused = operations.map((op) => [op.op_id, refusal_of(op)]).filter(([, code]) => code);
  expect(Object.fromEntries(refused)).toEqual(vector.refused ?? {});
  const [state, ...others] = orders(operations).map((order) =>
    order.reduce<State | undefined>((before, op) => fold(before, op), undefined),
  );
  for (const other of others) expect(other).toEqual(state);
  const { entity, gone } = show(state as State);
  const { id, kind, by, created_at, heads = {}, unread = {}, ...rest } = entity;
  const { incomplete, edited_meanwhile, ...shown } = rest;
  expect(shown).toEqual(vector.shown);
  expect(
    Object.fromEntries(
      Object.entries(unread).map(([f, writes]) => [f, writes.map(({ op }) => op)]),
    ),
  ).toEqual(vector.unread ?? {});
  expect(
    Object.fromEntries(Object.entries(heads).map(([f, writes]) => [f, writes.map(({ v }) => v)])),
  ).toEqual(vector.heads ?? {});
  expect([gone, !!incomplete, !!edited_meanwhile]).toEqual([
    !!vector.gone,
    !!vector.incomplete,
    !!vector.edited_meanwhile,
  ]);
  expect([id, by]).toEqual(["e1", "ana"]);
  expect(created_at).toMatch(/^2026-11-25T12:00:00/);
  expect(kind).toBe(state?.kind);
});

test.each([
  ["mild", "mild"],
  ["a newer word", "another newer word"],
])("of two equally cautious writes the later one is shown: %s, %s", (first, second) => {
  const write = (op: string, v: string, eff: string) => ({ op, v, eff, by: op });
  const writes = [write("o1", first, "2026-11-25"), write("o2", second, "2026-11-26")];
  expect(shown_of("colour_reaction", "safety", writes)?.op).toBe("o2");
  const milder = [write("o1", first, "2026-11-25"), write("o3", "none", "2026-11-26")];
  expect(shown_of("colour_reaction", "safety", milder)?.op).toBe("o1");
});
