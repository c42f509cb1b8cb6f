// Reads operations of older versions as if this version had written them. No operation is ever
// refused for its age, so a step stays here for good. `service/records/upcast.py` has the same
// steps.
import { read_stamp } from "../outbox/clock";
import type { Operation } from "../outbox/operation";

const STEPS: Readonly<Record<number, (op: Operation) => Operation>> = {
  // Before version 2 nobody was named if nobody was chosen; since then the phone is named.
  1: (op) => {
    const { device_id } = read_stamp(op.hlc);
    const by = op.by || device_id;
    return { ...op, schema: 2, by, ...(op.asked_by === "" && { asked_by: by }) };
  },
  // Before version 3 a swatch had numbers and no shapes: its hair, mix and reading are made of them.
  // Its grams were not kept; with one product and its usual developer they change no colour.
  2: (op) =>
    op.kind.startsWith("swatch.") && op.fields
      ? { ...op, schema: 3, fields: swatch_as_it_is_asked(op.fields) }
      : { ...op, schema: 3 },
};

const [PALEST, LONGEST_MIN] = [10.5, 120];

function swatch_as_it_is_asked(fields: Readonly<Record<string, unknown>>): Record<string, unknown> {
  const { level, minutes, product, lab, source, ...kept } = fields;
  const within = (value: unknown, least: number, most: number): value is number =>
    typeof value === "number" && value >= least && value <= most;
  const in_time = within(minutes, 0, LONGEST_MIN);
  return {
    ...kept,
    ...(within(level, 1, PALEST) && { hair: { level } }),
    ...(in_time &&
      Number.isInteger(minutes) &&
      typeof product === "string" && { mix: { parts: [{ product, grams: 10 }], minutes } }),
    ...(in_time &&
      Array.isArray(lab) &&
      ["instrument", "photo", "eye"].includes(source as string) && {
        after: { minute: minutes, where: "dried", source, lab },
      }),
  };
}

/** Returns an operation as this version writes it; one of a newer version stays as it is. */
export function upcast(op: Operation): Operation {
  const step = STEPS[op.schema];
  return step ? upcast(step(op)) : op;
}
