// What a zone is given besides a mix worked out for it: a kept formula, another work, another zone.
// Apart from services.ts, since every place loads that one first.
import { bench_zone, entered, lay_out_as_kept } from "../../bench/bench";
import { NOTHING_ENTERED, SHARE_UNSAID } from "../../bench/entries";
import type { Entered } from "../../records/entered";
import type { Entity } from "../../records/shapes";
import { change, create } from "../../records/write";
import { NOT_FORETOLD, type Zone, zones_of } from "./services";

/** Leaves out what is not there: a write names only what it changes. */
function whole<F extends object>(fields: F): { [N in keyof F]: Exclude<F[N], undefined> } {
  const said = Object.entries(fields).filter(([, value]) => value !== undefined);
  return Object.fromEntries(said) as { [N in keyof F]: Exclude<F[N], undefined> };
}

/** Takes a kept formula for the first zone of a service that has no mix yet, and lays that out. */
export async function take_formula(service: string, formula: Entity<"formula">): Promise<void> {
  const zone = zones_of(service).find(({ mix }) => !mix);
  if (!zone) return;
  const { id, entered: was, hair, wish } = formula;
  const { mix, products, most_minutes } = formula;
  const said = { formula: id, entered: was, hair, wish };
  const taken = whole({ ...said, mix, products, most_minutes });
  const fields = { ...taken, mix_chosen: null, ...NOT_FORETOLD };
  await change("zone", zone.id, fields, `Took ${formula.name || "a kept formula"}.`);
  lay_out_as_kept(zone.id, "mix");
}

/** Adds a zone that starts from what was entered for another; returns its id. */
export async function add_zone(
  service: string,
  name: string,
  like: Zone | undefined,
): Promise<string> {
  // What was entered for it a moment ago is on the bench before it is on record.
  const was = !like || bench_zone.peek() === like.id ? entered() : like.entered;
  return await create("zone", {
    service,
    name,
    order: zones_of(service).length,
    work: "toner",
    entered: with_own_amount(was ?? NOTHING_ENTERED),
  });
}

/** Returns the entries without an amount: nobody has said yet how much of the head the zone is. */
function with_own_amount(was: Entered): Entered {
  return { ...was, amounts: { ...was.amounts, share: SHARE_UNSAID, left_over: "" } };
}

/** Says what goes on a zone; a mix or a lightener that was taken for the other work is let go. */
export async function put_work({ id }: Zone, work: "toner" | "lightener"): Promise<void> {
  const none = {
    mix: null,
    mix_chosen: null,
    lightener: null,
    looked: null,
    window: null,
    predicted: null,
  };
  await change("zone", id, { work, ...none, most_minutes: null }, `Changed to a ${work}.`);
}

/** Lets go of what was taken for a zone, so that another mix can be chosen. */
export async function choose_again(zone: string): Promise<void> {
  await change("zone", zone, { mix: null, mix_chosen: null }, "Let go of this mix.");
}
