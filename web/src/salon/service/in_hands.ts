// Whose hands a service is in: of several phones that all may write on it, the one that has it.

import { at_now } from "../../device/when";
import { all, author_here, device_here } from "../../records/read";
import { new_id, together } from "../../records/write";
import { author_first } from "../who";
import type { Service } from "./services";

const TAKEN_OVER = "taken over";

/** Who has a service, and how they came by it. */
interface InHands {
  /** A person or a phone, by its id. */
  of: string;
  /** Whether that is who writes on this phone. */
  mine: boolean;
  /** When it was last taken over, and from whom; undefined where it is with who planned it. */
  taken?: { at: string; from: string };
}

const me = () => author_here.value || device_here.value;

/** Whether somebody is who writes here. Before anybody was named, the phone itself planned. */
const is_me = (of: string) => of === me() || of === device_here.value;

/** Returns whose a service is. Where two took it over at once, the later of the two has it. */
export function in_hands({ id, by, person }: Service): InHands {
  const takings = all("step").value.filter(
    ({ service, what }) => service === id && what === TAKEN_OVER,
  );
  const last = takings.findLast((step) => step.by === person);
  const of = person ?? by;
  const mine = is_me(of);
  if (!last) return { of, mine };
  const before = takings.slice(0, takings.indexOf(last)).findLast((step) => step.by !== of);
  return { of, mine, taken: { at: last.at ?? last.created_at, from: before?.by ?? by } };
}

/** Takes a service over. What others go on writing on it stays as if they still had it. */
export async function take_over({ id: service }: Service): Promise<void> {
  await author_first();
  const at = at_now();
  await together(
    [
      { do: "change", kind: "service", id: service, fields: { person: me() } },
      { do: "create", kind: "step", id: new_id(), fields: { service, what: TAKEN_OVER, at } },
    ],
    "Took the service over.",
  );
}
