import { describe, expect, test } from "vitest";
import type { Operation } from "../outbox/operation";
import { fold, refusal_of, type State } from "./fold";
import { show } from "./show";

const ANA = "ana";
let count = 0;

function op(kind: string, more: Partial<Operation> = {}): Operation {
  count += 1;
  const seq = String(count).padStart(4, "0");
  return {
    op_id: `op-${seq}`,
    device_seq: count,
    hlc: `2026-11-25T10:00:00.000Z-${seq}-01890a5d-ac96-774b-bcce-b302099a8057`,
    schema: 1,
    kind,
    entity_id: "e1",
    by: ANA,
    ...more,
  };
}

/** The record these operations make, and the same one whatever order they come in. */
function made_of(...operations: Operation[]): State {
  const [first, ...others] = orders(operations).map((order) =>
    order.reduce<State | undefined>((state, one) => fold(state, one), undefined),
  );
  for (const other of others) expect(other).toEqual(first);
  return first as State;
}

function orders<T>(items: T[]): T[][] {
  if (items.length < 2) return [items];
  return items.flatMap((item, at) =>
    orders([...items.slice(0, at), ...items.slice(at + 1)]).map((rest) => [item, ...rest]),
  );
}

describe("two people write one field without having seen each other", () => {
  const born = op("client.create", { fields: { name: "Ona Fictive", phone: "1" } });
  const base = (field: string) => ({ [field]: [born.op_id] });

  test("of an ordinary field the later write shows, and nobody is asked", () => {
    const early = op("client.set", { fields: { phone: "2" }, base: base("phone") });
    const late = op("client.set", { fields: { phone: "3" }, base: base("phone") });
    const { entity } = show(made_of(born, early, late));
    expect(entity).toMatchObject({ phone: "3", by: ANA });
    expect(entity.heads).toBeUndefined();
  });

  test("of free text the later shows and both are flagged, until one write names both", () => {
    const early = op("client.set", { fields: { history: "henna in May" } });
    const late = op("client.set", { fields: { history: "box black" } });
    const { entity } = show(made_of(born, early, late));
    expect(entity).toMatchObject({ history: "box black" });
    expect(entity.heads?.history?.map(({ v }) => v)).toEqual(["henna in May", "box black"]);
    const chosen = op("client.set", {
      fields: { history: "henna, then box black" },
      base: { history: [early.op_id, late.op_id] },
    });
    const settled = show(made_of(born, early, late, chosen)).entity;
    expect(settled).toMatchObject({ history: "henna, then box black" });
    expect(settled.heads).toBeUndefined();
  });

  test("of a safety fact the most cautious shows, whoever wrote last", () => {
    const worse = op("client.set", { fields: { colour_reaction: "severe" } });
    const milder = op("client.set", { fields: { colour_reaction: "mild" } });
    const { entity } = show(made_of(born, worse, milder));
    expect(entity).toMatchObject({ colour_reaction: "severe" });
    expect(entity.heads?.colour_reaction).toHaveLength(2);
  });

  test("keys of an object that merges key by key do not push each other out", () => {
    const one = op("client.set", { fields: { "answers.chemo": { value: "none" } } });
    const other = op("client.set", { fields: { "answers.test_masking": { value: "no" } } });
    expect(show(made_of(born, one, other)).entity).toMatchObject({
      answers: { chemo: { value: "none" }, test_masking: { value: "no" } },
    });
  });
});

describe("caution", () => {
  const born = op("client.create", { fields: { name: "Ona Fictive" } });
  const reacted = op("client.set", { fields: { colour_reaction: "severe" } });
  const base = { colour_reaction: [reacted.op_id] };

  test("does not fall by a plain write, even one that says it saw less", () => {
    const honest = op("client.set", {
      fields: { colour_reaction: "none" },
      from: { colour_reaction: "severe" },
      base,
    });
    expect(refusal_of(honest)).toBe("caution_needs_decision");
    const lying = op("client.set", { fields: { colour_reaction: "mild" }, base });
    expect(refusal_of(lying)).toBeNull();
    for (const write of [honest, lying]) {
      expect(show(made_of(born, reacted, write)).entity).toMatchObject({
        colour_reaction: "severe",
      });
    }
  });

  test("falls by a clear that says what was seen and why, but not past what it had not seen", () => {
    const clear = op("safety.clear", {
      fields: { colour_reaction: "none" },
      from: { colour_reaction: "severe" },
      base,
      saw: "a letter",
      why: "patch test by a dermatologist",
    });
    expect(show(made_of(born, reacted, clear)).entity).toMatchObject({ colour_reaction: "none" });
    const elsewhere = op("client.set", { fields: { colour_reaction: "mild" } });
    expect(show(made_of(born, reacted, clear, elsewhere)).entity).toMatchObject({
      colour_reaction: "mild",
    });
    expect(refusal_of({ ...clear, why: "" })).toBe("caution_needs_decision");
  });

  test("an answer leads from not knowing to no, and from nothing else", () => {
    const answer = op("safety.answer", { fields: { colour_reaction: "none" }, asked_by: ANA });
    expect(show(made_of(born, answer)).entity).toMatchObject({ colour_reaction: "none" });
    const over = op("safety.answer", {
      fields: { colour_reaction: "none" },
      from: { colour_reaction: "mild" },
    });
    expect(refusal_of(over)).toBe("caution_needs_decision");
    expect(show(made_of(born, reacted, { ...answer, base })).entity).toMatchObject({
      colour_reaction: "severe",
    });
  });

  test("a word from a newer app counts as the most cautious", () => {
    const newer = op("client.set", { fields: { colour_reaction: "anaphylaxis" } });
    expect(show(made_of(born, reacted, newer)).entity).toMatchObject({
      colour_reaction: "anaphylaxis",
    });
  });
});

describe("a deleted record", () => {
  const born = op("line.create", { fields: { name: "Still" } });
  const gone = op("line.gone", { seen: [born.op_id], base: { gone: [] } });

  test("is gone, and comes back only by a restore that names its deletion", () => {
    expect(show(made_of(born, gone))).toMatchObject({ gone: true });
    const back = op("line.restore", { base: { gone: [gone.op_id] } });
    expect(show(made_of(born, gone, back))).toMatchObject({ gone: false });
    const again = op("line.gone", { seen: [born.op_id], base: { gone: [back.op_id] } });
    expect(show(made_of(born, gone, back, again)).gone).toBe(true);
  });

  test("that was edited meanwhile stays hidden and asks for a look", () => {
    const edit = op("line.set", { fields: { mix_ratio: 2 } });
    const { entity, gone: hidden } = show(made_of(born, gone, edit));
    expect(hidden).toBe(true);
    expect(entity.edited_meanwhile).toBe(true);
    expect(show(made_of(born, gone)).entity.edited_meanwhile).toBeUndefined();
  });
});

test("what was set when a record was made is not set again", () => {
  const born = op("tube.create", { fields: { product: "p1" } });
  const moved = op("tube.set", { fields: { product: "p2" } });
  expect(refusal_of(moved)).toBe("field_invalid");
  expect(show(made_of(born, moved)).entity).toMatchObject({ product: "p1" });
});

test("a record whose creation has not come says so", () => {
  const early = op("zone.set", { fields: { name: "ends" } });
  expect(show(made_of(early)).entity).toMatchObject({ name: "ends", incomplete: true });
});

test("an operation that comes twice changes nothing", () => {
  const born = op("client.create", { fields: { name: "Ona Fictive", history: "a" } });
  const set = op("client.set", { fields: { history: "b" }, base: { history: [born.op_id] } });
  const once = made_of(born, set);
  expect([born, set, born].reduce<State | undefined>((s, o) => fold(s, o), once)).toEqual(once);
});
