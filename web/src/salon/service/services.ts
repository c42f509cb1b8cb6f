// A service as it goes: planned, laid out zone by zone, mixed, on the head, rinsed, ended.
import type { Colour, Formula, Mix } from "../../api/shapes";
import { entered } from "../../bench/bench";
import { hair_entered, products_in_hand } from "../../bench/chosen";
import { NOTHING_ENTERED, type Section } from "../../bench/entries";
import { as_learnt, entered_as_learnt } from "../../bench/learnt";
import { hair_of, wish_of } from "../../bench/requests";
import { zone_now_ms } from "../../device/clock_moves";
import { at_now, MINUTE_MS, rfc3339 } from "../../device/when";
import type { Entered } from "../../records/entered";
import { all, one } from "../../records/read";
import type { Entity } from "../../records/shapes";
import { type Change, change, new_id, together } from "../../records/write";
import { product_of } from "../../shelf/shelf";
import { author_first } from "../who";
import { is_mixed } from "./lightening";
import { minute_of, type Running } from "./running";

export { client_name } from "./client_name";

export type Service = Entity<"service">;
export type Zone = Entity<"zone">;

const FIRST_ZONE = "all over";

/**
 * Plans a service of a client; returns its id. One zone stands ready in it. `person` is who of the
 * team does it; without one it is the person who plans it.
 */
export async function plan_service(
  client: string,
  planned_at: string,
  person?: string,
): Promise<string> {
  await author_first();
  const service = new_id();
  await together(
    [...planning(service, client, planned_at), ...by_person(service, person)],
    "Planned a service.",
  );
  return service;
}

/** Plans a service of a client nobody has met yet; returns the service's id. */
export async function plan_for_new_client(
  name: string,
  planned_at: string,
  person?: string,
): Promise<string> {
  await author_first();
  const [client, service] = [new_id(), new_id()];
  const meeting: Change = { do: "create", kind: "client", id: client, fields: { name } };
  await together(
    [...planning(service, client, planned_at), ...by_person(service, person), meeting],
    `Planned ${name}.`,
  );
  return service;
}

function by_person(service: string, person: string | undefined): Change[] {
  return person ? [{ do: "change", kind: "service", id: service, fields: { person } }] : [];
}

/** Moves a planned service to another moment. */
export async function move_service(
  service: string,
  planned_at: string,
  said: string,
): Promise<void> {
  await author_first();
  await change("service", service, { planned_at }, said);
}

/**
 * Returns what plans a service of a client, with one zone that stands ready in it. A wish that is
 * known already stands in the zone.
 */
export function planning(
  service: string,
  client: string,
  planned_at: string,
  zone: string = new_id(),
  wish?: Entered["wish"],
): Change[] {
  const hair = hair_of_client(client);
  return [
    {
      do: "create",
      kind: "service",
      id: service,
      fields: { client, planned_at, purpose: "client", state: "planned" },
    },
    {
      do: "create",
      kind: "zone",
      id: zone,
      fields: {
        service,
        name: FIRST_ZONE,
        order: 0,
        work: "toner",
        entered: wish ? { ...hair, wish } : hair,
      },
    },
  ];
}

/** What is entered for a client's next bowl before anything is asked: their hair, as last known. */
function hair_of_client(client: string): Entered {
  const last = last_service(client);
  const before = last && zones_of(last.id)[0]?.entered;
  if (!before) return NOTHING_ENTERED;
  const hair = entered_as_learnt({ ...before.hair, already_on: [] }, client);
  return { ...NOTHING_ENTERED, hair };
}

/** Returns the zones of a service in their order. */
export function zones_of(service: string): readonly Zone[] {
  return all("zone")
    .value.filter((zone) => zone.service === service)
    .sort((a, b) => (a.order ?? 0) - (b.order ?? 0));
}

/** Where a zone has come to. */
export function section_of(zone: Zone): Section {
  if (zone.rinsed_at) return "result";
  if (zone.first_section_at) return "strip";
  return is_mixed(zone) ? "mix" : "wish";
}

/** Returns the last ended service of a client in which something was mixed; undefined for none. */
export function last_service(client: string): Service | undefined {
  return all("service")
    .value.filter(({ client: of, state }) => of === client && state === "ended")
    .sort((a, b) => (a.planned_at ?? "").localeCompare(b.planned_at ?? ""))
    .findLast(({ id }) => zones_of(id).some(({ mix }) => mix));
}

/** What was foretold of another head, or of this one before: it is worked out again. */
export const NOT_FORETOLD = { window: null, predicted: null, look_again_min: null };

/**
 * Returns what a zone takes over from one of an earlier visit: hair, wish and mix. Its minutes stay
 * behind: looks may have moved them, and they were those looks' own.
 */
export function as_last_time(earlier: Zone, order: number, client: string | undefined) {
  const { name, work, wish, mix, mix_chosen = null, products, most_minutes } = earlier;
  const was = earlier.entered && {
    ...earlier.entered,
    hair: entered_as_learnt(earlier.entered.hair, client),
  };
  const described = (was && hair_of(was.hair)) ?? earlier.hair;
  const hair = described && as_learnt(described, client);
  return {
    ...{ name, work, order, entered: was, hair, wish, mix, mix_chosen, products },
    ...{ most_minutes, ...NOT_FORETOLD },
  };
}

/** Takes over hair, wish and mix of each zone of an earlier service. Nothing is asked again. */
export async function same_as(earlier: string, service: string): Promise<void> {
  const here = zones_of(service);
  const client = one("service", service).value?.client;
  await together(
    zones_of(earlier)
      .filter(({ mix }) => mix)
      .map((zone, order): Change => {
        const fields = as_last_time(zone, order, client);
        const there = here[order];
        return there
          ? { do: "change", kind: "zone", id: there.id, fields }
          : { do: "create", kind: "zone", id: new_id(), fields: { ...fields, service } };
      }),
    "Took the same as last time.",
  );
}

/** Returns the longest that every product of a mix may stay on, by its leaflet. */
export function most_minutes_of({ parts }: Mix, known = product_of): number {
  return Math.min(...parts.map(({ product }) => known(product)?.window.max ?? 0));
}

/** Returns the grams of a whole bowl, developer included. */
export function grams_of({ parts, developer }: Mix): number {
  return parts.reduce((sum, { grams }) => sum + grams, developer?.grams ?? 0);
}

/** Takes a formula as what is mixed for a zone. */
export async function take(zone: string, formula: Formula, most_minutes: number): Promise<void> {
  const { mix, window, predicted } = formula;
  const spoken_of = new Set(mix.parts.map(({ product }) => product));
  const products = products_in_hand.value.filter(({ id }) => spoken_of.has(id));
  const now = entered();
  await change(
    "zone",
    zone,
    {
      entered: now,
      hair: hair_entered.value,
      wish: wish_of(now.wish),
      ...{ mix, mix_chosen: null, window, predicted, products, most_minutes },
      look_again_min: null,
    },
    "Took this mix.",
  );
}

/** The last section has its mix: the minutes of the strip run from here. */
export async function last_section_on({ id }: Zone): Promise<void> {
  if (one("zone", id).value?.last_section_at) return;
  const at = rfc3339(zone_now_ms(id));
  await change("zone", id, { last_section_at: at }, "Last section on.");
}

/** Moves the beginning of a zone's minutes, for a tap that came late or early. */
export async function move_beginning(zone: Zone, by_min: number): Promise<void> {
  const field = zone.last_section_at ? "last_section_at" : "first_section_at";
  const first_ms = Date.parse(zone.first_section_at ?? at_now());
  const moved_ms = Date.parse(zone[field] ?? at_now()) + by_min * MINUTE_MS;
  // The last section is never before the first, and neither is still to come.
  const least_ms = field === "last_section_at" ? first_ms : moved_ms;
  const at_ms = Math.min(zone_now_ms(zone.id), Math.max(least_ms, moved_ms));
  const fields = { [field]: rfc3339(at_ms) };
  if (field === "first_section_at") {
    Object.assign(fields, { deadline_at: rfc3339(at_ms + (zone.most_minutes ?? 0) * MINUTE_MS) });
  }
  await change("zone", zone.id, fields, `Moved the clock by ${by_min < 0 ? "+" : "−"}1 min.`);
}

/**
 * The zone is rinsed: its clock stops here. Nothing stands in front of this. `dry_at` gives the dry
 * colour its own head is foretold for a minute, where that is known.
 */
export async function rinsed(
  clock: Running,
  dry_at?: (minute: number) => Colour | undefined,
): Promise<void> {
  const at = at_now();
  const minute = minute_of(clock, Date.now());
  const what = `${clock.zone_name} rinsed at minute ${minute}`;
  const predicted = dry_at?.(minute);
  const fields = {
    rinsed_at: rfc3339(zone_now_ms(clock.zone)),
    ...(predicted && { predicted }),
  };
  await together(
    [
      { do: "change", kind: "zone", id: clock.zone, fields },
      { do: "create", kind: "step", id: new_id(), fields: { service: clock.service, what, at } },
    ],
    `Rinsed ${clock.zone_name}.`,
  );
}

/** Returns the whole minutes a zone's mix was on when it was rinsed. */
export function minutes_on({ first_section_at, last_section_at, rinsed_at }: Zone): number {
  const began = last_section_at ?? first_section_at;
  if (!began || !rinsed_at) return 0;
  return Math.max(0, Math.floor((Date.parse(rinsed_at) - Date.parse(began)) / MINUTE_MS));
}

/** Ends a service. Nothing stands in front of this. */
export async function end_service(service: string): Promise<void> {
  await change("service", service, { state: "ended" }, "Ended the service.");
}

/**
 * Returns a zone's dry colour by what it was foretold for: the plan, or the minute it was rinsed
 * at. A zone that was rinsed while no prediction was there keeps the plan's. Undefined for none.
 */
export function foretold({
  id,
  predicted,
  rinsed_at,
}: Pick<Zone, "id" | "predicted" | "rinsed_at">) {
  const start = all("start").value.findLast(({ zone }) => zone === id);
  const as_rinsed = rinsed_at && `${start?.predicted?.lab}` !== `${predicted?.lab}`;
  return (
    predicted && {
      label: `foretold dry as ${as_rinsed ? "rinsed" : "planned"}`,
      colour: predicted,
    }
  );
}
