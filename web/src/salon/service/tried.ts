// A mix that was tried out becomes what is mixed: for a client, or for nobody, as a few grams on a
// swatch. Hair, wish and mix come along, so that nothing is entered again.
import type { Formula, Mix } from "../../api/shapes";
import { entered } from "../../bench/bench";
import { products_in_hand } from "../../bench/chosen";
import { as_learnt } from "../../bench/learnt";
import { hair_of, wish_of } from "../../bench/requests";
import { at_now, day_of } from "../../device/when";
import { one } from "../../records/read";
import type { Writing } from "../../records/shapes";
import { type Change, new_id, together } from "../../records/write";
import { author_first } from "../who";
import { open_visit } from "./day";
import { grams_of, most_minutes_of, planning, type Zone, zones_of } from "./services";

/** Whom it is for: a client by id, a new one by name, or nobody. */
export type ForWhom = { client: string } | { name: string } | "nobody";

/**
 * A swatch takes 2 to 10 g with developer (common practice, no published source). This much leaves
 * room for a scale that rounds each of four amounts to whole grams.
 */
const SWATCH_G = 8;
const TENTHS = 10;

/**
 * Starts a service now with a formula of the try-out; returns the service's id.
 *
 * A client who is planned today, with nothing mixed yet, has it in that visit.
 */
export async function start_tried(formula: Formula, whom: ForWhom): Promise<string> {
  await author_first();
  if (whom === "nobody") return await on_a_swatch(formula);
  if ("client" in whom) {
    const { client } = whom;
    const fields = fields_of(formula, client);
    const said = `Took the tried mix for ${one("client", client).peek()?.name ?? "this client"}.`;
    const planned = unmixed_today(client);
    if (planned) {
      const taken = { ...fields, mix_chosen: null, look_again_min: null };
      await together([{ do: "change", kind: "zone", id: planned.id, fields: taken }], said);
      return planned.service ?? "";
    }
    const service = new_id();
    await together(planned_with(fields, service, client), said);
    return service;
  }
  const [client, service] = [new_id(), new_id()];
  const meeting: Change = {
    do: "create",
    kind: "client",
    id: client,
    fields: { name: whom.name },
  };
  const planned = planned_with(fields_of(formula, client), service, client);
  await together([...planned, meeting], `Planned ${whom.name} with the tried mix.`);
  return service;
}

function planned_with(fields: Writing<"zone">, service: string, client: string): Change[] {
  const zone = new_id();
  return [
    ...planning(service, client, at_now(), zone),
    { do: "change", kind: "zone", id: zone, fields },
  ];
}

/** The first zone of a client's visit of today, where nothing is mixed for it yet. */
function unmixed_today(client: string): Zone | undefined {
  const visit = open_visit(client);
  const at_ms = Date.parse(visit?.planned_at ?? "");
  if (!visit || day_of(at_ms) !== day_of(Date.now())) return undefined;
  const zones = zones_of(visit.id);
  const is_free = zones.every(({ mix, lightener, work }) => !mix && !lightener && work === "toner");
  return is_free ? zones[0] : undefined;
}

async function on_a_swatch(formula: Formula): Promise<string> {
  const service = new_id();
  const mix = as_swatch(formula.mix);
  const taken = fields_of({ ...formula, mix }, undefined);
  const { entered: was } = taken;
  // How much hair the try-out was for says nothing of a swatch.
  const fields = {
    ...taken,
    ...(was && { entered: { ...was, amounts: { ...was.amounts, length: "" } } }),
  };
  await together(
    [
      {
        do: "create",
        kind: "service",
        id: service,
        fields: { planned_at: at_now(), purpose: "swatch", state: "planned" },
      },
      {
        do: "create",
        kind: "zone",
        id: new_id(),
        fields: { service, name: "swatch", order: 0, work: "toner", ...fields },
      },
    ],
    "Took the tried mix for a swatch.",
  );
  return service;
}

/** What a zone takes over from the try-out; what this client's head did before is allowed for. */
function fields_of(formula: Formula, client: string | undefined): Writing<"zone"> {
  const { mix, window, predicted } = formula;
  const spoken_of = new Set(mix.parts.map(({ product }) => product));
  const was = entered();
  const described = hair_of(was.hair);
  const hair = described && as_learnt(described, client);
  const wish = wish_of(was.wish);
  // Another head than the one tried: its minutes are worked out on its page.
  const is_other = JSON.stringify(hair) !== JSON.stringify(described);
  return {
    entered: was,
    ...(hair && { hair }),
    ...(wish && { wish }),
    mix,
    products: products_in_hand.peek().filter(({ id }) => spoken_of.has(id)),
    most_minutes: most_minutes_of(mix),
    ...(is_other ? { window: null, predicted: null } : { window, predicted }),
  };
}

/** Returns a mix as the few grams of a swatch, in the same proportions. */
export function as_swatch(mix: Mix): Mix {
  const whole_g = grams_of(mix);
  const share = Math.min(1, SWATCH_G / whole_g);
  const few = (grams: number) => Math.max(1, Math.round(grams * share * TENTHS)) / TENTHS;
  const { parts, developer } = mix;
  return {
    ...mix,
    parts: parts.map(({ product, grams }) => ({ product, grams: few(grams) })),
    ...(developer && { developer: { ...developer, grams: few(developer.grams) } }),
  };
}
