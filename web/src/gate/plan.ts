// What is about to be done in a service, as the safety rules take it: lines with what their leaflets
// say, areas, strength, decisions. Where nothing is said, the most cautious is taken.
import type { LineCard, Product, SafetyDecision, SafetyPlan } from "../api/shapes";
import { rfc3339 } from "../device/when";
import { all, one } from "../records/read";
import type { Answer, Entity, LightenerSaid } from "../records/shapes";
import { setting_id } from "../records/write";
import { house_of_salon } from "../salon/alert_tests/terms";
import { is_mixed } from "../salon/service/lightening";
import { zones_of } from "../salon/service/services";
import { answers_of, type Service } from "./facts";

/** Stands in while no mix is chosen, so that a client can be asked days before. */
export const NO_LINE = "a line not chosen yet";

/** Returns the key of the setting that keeps what is known of a line: said once, not per visit. */
export function card_key(line: string, fact: string): string {
  return `line card: ${line}: ${fact}`;
}

function card_answer(line: string, fact: string): unknown {
  const value = one("setting", setting_id(card_key(line, fact))).value?.value;
  return (value as Answer | undefined)?.value;
}

const CARD_FACTS = [
  "labelled",
  "label_caution",
  "leaflet_version",
  "sensitiser",
  "persulfate",
  "heat_allowed",
  "max_minutes",
  "nh3_percent",
  "for_fresh_lightened",
  "cleared_for_lashes",
  "listed_lash_gel",
  "releases_peroxide",
] as const;

/** Returns the zones of a service whose mix is not rinsed yet, with the products in them. */
export function mixed_zones(service: string) {
  return zones_of(service)
    .filter((zone) => is_mixed(zone) && !zone.rinsed_at)
    .map((zone) => ({ zone, products: in_mix(zone) }));
}

/** Whether all that was mixed in a service is rinsed, so that nothing is left to hold. */
export function is_rinsed(service: string): boolean {
  return zones_of(service).some((zone) => zone.rinsed_at) && mixed_zones(service).length === 0;
}

function in_mix({ mix, products = [] }: Entity<"zone">): readonly Product[] {
  const parts = new Set(mix?.parts.map(({ product }) => product));
  return products.filter(({ id }) => parts.has(id));
}

/** A lightener is on no shelf: its leaflet is what was entered of it for the zone. */
function card_of_lightener({ kind, max_min }: LightenerSaid): LineCard {
  const line = `lightener ${kind}`;
  const card = {
    line,
    class: kind === "powder" ? "lightener_powder" : "lightener_cream",
    max_minutes: max_min,
    ...said_of_card(line),
  };
  return whole(card) as LineCard;
}

function said_of_card(line: string): Record<string, unknown> {
  return whole(Object.fromEntries(CARD_FACTS.map((fact) => [fact, card_answer(line, fact)])));
}

function card_of(product: Product): LineCard {
  const name = product.line;
  const line = all("line").value.find((known) => known.name === name);
  const { min_hours, max_hours, site, method, max_minutes, heat_allowed } = line?.leaflet ?? {};
  const card = {
    line: name,
    product_class: product.class,
    may_mix_with: product.may_mix_with ?? [],
    max_minutes: max_minutes ?? product.window.max,
    leaflet_version: line?.leaflet_version,
    heat_allowed: heat_allowed === undefined ? undefined : heat_allowed ? "yes" : "no",
    test: whole({ min_hours, max_hours, site, method }),
    ...said_of_card(name),
  };
  return whole(card) as LineCard;
}

function whole<F extends object>(fields: F): F {
  const said = Object.entries(fields).filter(([, value]) => value !== undefined && value !== "");
  return Object.fromEntries(said) as F;
}

/** Returns the lines of a service's mixes, each once; a stand-in while nothing is chosen. */
export function cards_of(service: string): LineCard[] {
  const products = mixed_zones(service).flatMap((mixed) => mixed.products);
  const by_line = new Map(products.map((product) => [product.line, product]));
  const by_kind = new Map(lighteners_of(service).map((lightener) => [lightener.kind, lightener]));
  const cards = [...by_kind.values()].map(card_of_lightener);
  cards.push(...[...by_line.values()].map(card_of));
  if (cards.length === 0) return [{ line: NO_LINE, class: "oxidative_permanent" } as LineCard];
  const bowls = mixed_zones(service).map((mixed) => mixed.products.map(({ line }) => line));
  return cards.slice(0, 8).map((card) => ({
    ...card,
    may_mix_with: [...(card.may_mix_with ?? []), ...apart(card.line, cards, bowls)].slice(0, 50),
  }));
}

/** The lines that share no bowl with this one: nothing of two zones is mixed with each other. */
function apart(line: string, cards: readonly LineCard[], bowls: readonly string[][]): string[] {
  const together = new Set(bowls.filter((bowl) => bowl.includes(line)).flat());
  return cards.flatMap((card) =>
    card.line === line || together.has(card.line) ? [] : [card.line],
  );
}

function lighteners_of(service: string): LightenerSaid[] {
  return mixed_zones(service).flatMap(({ zone: { work, lightener } }) =>
    work === "lightener" && lightener ? [lightener] : [],
  );
}

/**
 * Returns what is about to be done in a service. Its bowls are asked as one, with the strongest
 * developer and all areas: what is on one head at once holds or opens as a whole, and asked bowl by
 * bowl none would hold less, but each person would be asked as often as there are bowls.
 */
export function plan_of(service: Service): SafetyPlan {
  const mixed = mixed_zones(service.id);
  const zones = mixed.map(({ zone }) => zone);
  const heats = zones.map(({ heat }) => heat);
  const heat = heats.includes("yes") ? "yes" : heats.every((one) => one === "no") ? "no" : null;
  const started = zones.flatMap(({ first_section_at }) => first_section_at ?? []).sort();
  const waiting = zones.some(({ first_section_at }) => !first_section_at);
  const strengths = mixed.flatMap(({ zone, products }) =>
    zone.mix?.developer
      ? [zone.mix.developer.percent]
      : products.flatMap(({ developer_percent = [] }) => developer_percent),
  );
  strengths.push(...lighteners_of(service.id).map((lightener) => lightener.developer_percent));
  const touches = answers_of(service).touches_skin?.value;
  const client = one("client", service.client ?? "").value?.name;
  return whole({
    lines: cards_of(service.id),
    // A zone nobody placed may lie on the scalp.
    areas: [...new Set(zones.map(({ area }) => area ?? "scalp")), ...(zones[0] ? [] : ["scalp"])],
    moment: started[0] && !waiting ? "live" : "start",
    purpose: "client",
    client: client || undefined,
    opened_at: service.created_at,
    zones: [...new Set(zones.flatMap(({ name }) => name || []))].slice(0, 20),
    developer_percent: strengths.length > 0 ? Math.max(...strengths) : undefined,
    heat: heat && zones[0] ? heat : undefined,
    touches_skin: touches,
    started_at: waiting ? undefined : started[0],
    seen_until: seen_until(),
    decisions: decisions_of(service.id),
    house: house_of_salon(),
  }) as unknown as SafetyPlan;
}

function decisions_of(service: string): SafetyDecision[] {
  return all("decision")
    .value.filter((decision) => decision.service === service)
    .flatMap(({ rule, by, role, saw, why, at, basis, edition }) =>
      rule && role && saw && why && at && basis !== undefined
        ? [{ rule, by, role, saw, why, at, basis, edition } as SafetyDecision]
        : [],
    );
}

/** The latest moment that any record here was made at: a clock set back opens nothing. */
function seen_until(): string | undefined {
  const kinds = ["service", "zone", "alert_test", "decision", "client", "step"] as const;
  const made = kinds.flatMap((kind) => all(kind).value.map(({ created_at }) => created_at));
  const went_on = all("zone").value.flatMap(({ first_section_at, rinsed_at }) => [
    first_section_at ?? "",
    rinsed_at ?? "",
  ]);
  const moments_ms = [...made, ...went_on].map(Date.parse).filter(Number.isFinite);
  return moments_ms.length > 0 ? rfc3339(Math.max(...moments_ms)) : undefined;
}
