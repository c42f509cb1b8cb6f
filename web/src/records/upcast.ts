// Operations as older versions wrote them, read as this one writes them. None is ever refused for
// its age, so a step stays here for good; `service/records/upcast.py` has the same steps.
import { read_stamp } from "../outbox/clock";
import type { Operation } from "../outbox/operation";

const STEPS: Readonly<Record<number, (op: Operation) => Operation>> = {
  // Where nobody was chosen to write, nobody was named; since then it is the phone that wrote.
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
