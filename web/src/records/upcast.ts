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
};

/** Returns an operation as this version writes it; one of a newer version stays as it is. */
export function upcast(op: Operation): Operation {
  const step = STEPS[op.schema];
  return step ? upcast(step(op)) : op;
}
