// What is on record for a service, as the safety rules take it: what the client said and when, what
// was looked at today, the alert tests, the hair's past. What nobody asked is left out, never "no".
import type { AlertTest, SafetyFacts } from "../api/shapes";
import { all, one } from "../records/read";
import type { Answer, Entity } from "../records/shapes";
import { history_of } from "../salon/clients";

type Facts = SafetyFacts;
type Past = NonNullable<Facts["hair_past"]>;
export type Service = Entity<"service">;
export type Answers = Readonly<Record<string, Answer>>;

/** The client's own answers that merge toward caution; each is a field of the client's record. */
export const MERGED = [
  "colour_reaction",
  "black_tattoo",
  "dye_allergy",
  "persulfate_reaction",
] as const;

/** What stays true of a client from visit to visit, until somebody says otherwise. */
export const OF_CLIENT = new Set<string>([
  "age_years",
  "sixteen_or_over",
  "eighteen_or_over",
  "could_be_under_18",
  "guardian_consent",
  "asthma",
  "chemo",
  "chemo_ended_months",
  "hair_past",
  "hair_past_doubt",
]);

const PAST_OF_WORDS: Record<string, readonly Past[number]["what"][]> = {
  "coloured at home": ["permanent_colour"],
  "lightened elsewhere": ["lightened"],
  // What nobody can name may hold metal: the rules then ask.
  "henna or plant colour": ["plant_henna", "unknown"],
  "metallic or progressive colour": ["metallic"],
  "relaxed or straightened": ["hydroxide_relaxer"],
  permed: ["perm"],
};

/** Returns the answers on a service: those asked fresh, and those the client gave before. */
export function answers_of(service: Service): Answers {
  const client = one("client", service.client ?? "").value;
  return { ...client?.answers, ...(service.facts as Answers | undefined) };
}

/** Returns the alert tests of a service's client. */
export function tests_of(service: Service): readonly Entity<"alert_test">[] {
  return all("alert_test").value.filter(({ client }) => client && client === service.client);
}

/** Returns all facts of a service as the rules take them. */
export function facts_of(service: Service): Facts {
  const client = one("client", service.client ?? "").value;
  const facts: Record<string, unknown> = {};
  const said_at: { fact: string; at: string }[] = [];
  for (const [fact, answer] of Object.entries(answers_of(service))) {
    // Answers about one test or one line stand under names of their own.
    if (fact.includes(":") || !answer || fact === "hair_past" || fact === "touches_skin") continue;
    facts[fact] = answer.value;
    said_at.push({ fact, at: answer.at });
  }
  for (const fact of MERGED) {
    const word = client?.[fact];
    if (word && word !== "not_asked") facts[fact] = word;
  }
  if (facts.new_to_client === undefined && had_these_lines(service)) {
    facts.new_to_client = "no";
  }
  const past = past_of(service);
  return {
    ...facts,
    ...(past && { hair_past: past }),
    tests: tests_as_facts(service),
    said_at,
  } as Facts;
}

function past_of(service: Service): Past | undefined {
  const said = answers_of(service).hair_past?.value as Past | undefined;
  if (!said) return undefined;
  const noted = history_of(service.client ?? "").flatMap(({ what = "" }) =>
    (PAST_OF_WORDS[what] ?? ["unknown" as const]).map((past) => ({ what: past })),
  );
  const lifted = zones_before(service)
    .filter(({ work }) => work === "lightener")
    .map(({ first_section_at = "" }) => ({
      what: "lightened" as const,
      on: first_section_at.slice(0, 10),
    }));
  return [...said, ...noted, ...lifted].slice(0, 50);
}

/** Returns the alert tests of a service's client as the rules take them. */
export function tests_as_facts(service: Service): AlertTest[] {
  return tests_of(service).flatMap((test) => test_of(test, service));
}

function test_of(test: Entity<"alert_test">, service: Service): AlertTest[] {
  if (!test.line || !test.applied_at) return [];
  const { line, maker, generation, leaflet_version, applied_at, read_at, read_by, site } = test;
  const said = answers_of(service);
  const known = {
    maker,
    generation,
    leaflet_version,
    read_at,
    read_by,
    site,
    method: test.method ?? said[`test_method:${test.id}`]?.value,
    applied_by: test.applied_by ?? said[`test_applied_by:${test.id}`]?.value,
    used_before: relied_on(test, service) ? "yes" : said[`used_before:${test.id}`]?.value,
  };
  if (!test.from_paper && known.used_before === undefined) known.used_before = "no";
  const given = Object.entries(known).filter(([, value]) => value);
  return [
    {
      line,
      applied_at,
      result: test.result ?? "not_read",
      from_paper: test.from_paper ?? false,
      ...Object.fromEntries(given),
    } as AlertTest,
  ];
}

/** Whether an earlier service of this client went on after this test, with its line. */
function relied_on(test: Entity<"alert_test">, service: Service): boolean {
  return zones_before(service).some(
    ({ first_section_at = "", products = [] }) =>
      Date.parse(first_section_at) > Date.parse(test.applied_at ?? "") &&
      products.some(({ line }) => line === test.line),
  );
}

function had_these_lines(service: Service): boolean {
  const before = new Set(
    zones_before(service).flatMap(({ products = [] }) => products.map(({ line }) => line)),
  );
  const now = all("zone").value.filter((zone) => zone.service === service.id);
  const lines = now.flatMap(({ products = [], mix }) => (mix ? products : []));
  return lines.length > 0 && lines.every(({ line }) => before.has(line));
}

/** The zones of the same client's other services that went on. */
function zones_before(service: Service): readonly Entity<"zone">[] {
  return all("zone").value.filter(
    (zone) =>
      zone.first_section_at &&
      zone.service !== service.id &&
      one("service", zone.service ?? "").value?.client === service.client,
  );
}
