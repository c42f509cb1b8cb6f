// A visit as it stood when its first mix went on: one block that nothing later changes. Print,
// desk and history read it, so that no page says of a visit what nobody knew at its start.
import { settings } from "../../device/settings";
import { at_now } from "../../device/when";
import { all, one, written_last } from "../../records/read";
import type {
  Answer,
  Bowl,
  Entity,
  FrozenAnswer,
  FrozenDecision,
  FrozenTest,
  Writing,
} from "../../records/shapes";
import { open_batch, product_of } from "../../shelf/shelf";
import { salon_name } from "../salon_name";
import { who_words, worker_name } from "../who";

export type Start = Entity<"start">;

type Service = Entity<"service">;
type Zone = Entity<"zone">;
type Said = Answer & { asked?: string; words?: string };

/** The client's answers that merge toward caution, each with what it is called on paper. */
export const MERGED_NAMES = [
  ["colour_reaction", "Reaction to hair colour"],
  ["black_tattoo", "Temporary black tattoo"],
  ["dye_allergy", "Allergy to dye"],
  ["persulfate_reaction", "Reaction to lightener"],
] as const;

const MOST_TESTS = 20;

/** Returns the starts of a visit, the first one first; none for a visit of an earlier version. */
export function starts_of(service: string): readonly Start[] {
  return all("start").value.filter((start) => start.service === service);
}

/** Returns all that is known now of a zone that is about to begin, by the names of this moment. */
export function start_of(zone: Zone): Writing<"start"> {
  const service = one("service", zone.service ?? "").peek();
  const client = one("client", service?.client ?? "").peek();
  const { wish, hair, window, most_minutes, predicted, lightener } = zone;
  const bowl = bowl_of(zone);
  return without_gaps({
    service: zone.service,
    client: service?.client,
    zone: zone.id,
    at: at_now(),
    worker: worker_name.peek(),
    salon: salon_name(),
    name: client?.name,
    profile: settings.peek().profile,
    work: zone.work ?? "toner",
    ...{ wish, hair, window, most_minutes, predicted },
    lightener: zone.work === "lightener" ? lightener : undefined,
    bowl,
    answers: service ? answers_now(service) : [],
    tests: tests_now(service?.client ?? ""),
    decisions: decisions_now(zone.service ?? ""),
  });
}

/** Returns what is in a zone's bowl by the names on the tubes; undefined where nothing is mixed. */
export function bowl_of({ mix, products = [] }: Zone): Bowl | undefined {
  if (!mix) return undefined;
  const parts = mix.parts.map(({ product, grams }) => {
    const known = products.find(({ id }) => id === product) ?? product_of(product);
    const [name, batch] = [known?.name ?? "a product no longer known", open_batch(product)];
    return { product, ...(known && { line: known.line }), name, grams, ...(batch && { batch }) };
  });
  return { parts, ...(mix.developer && { developer: mix.developer }) };
}

/** Returns the answers on a service as they are now, the client's merged ones first. */
export function answers_now(service: Service): FrozenAnswer[] {
  const id = service.client ?? "";
  const client = one("client", id).value;
  const said = { ...client?.answers, ...service.facts } as Record<string, Said>;
  const merged = MERGED_NAMES.map(([fact]): FrozenAnswer => {
    const value = client?.[fact] ?? "not_asked";
    if (value === "not_asked") return { fact, value };
    const answer = said[fact];
    if (answer?.value === value) return frozen(fact, answer);
    // A reaction that was recorded raises the word without a question.
    const { at, by } = written_last(id, fact) ?? {};
    return { fact, value, ...(at && { at }), ...(by && { by: who_words(by) }) };
  });
  return [...merged, ...others(said).map(([fact, answer]) => frozen(fact, answer))];
}

/**
 * Returns the answers that were given up to a moment, of a visit that kept none: of those that were
 * given again since, nobody knows what was said then.
 */
export function answers_until(service: Service, until_ms: number): FrozenAnswer[] {
  const client = one("client", service.client ?? "").value;
  const said = { ...client?.answers, ...service.facts } as Record<string, Said>;
  const given = Object.entries(said).filter(([, answer]) => Date.parse(answer?.at) <= until_ms);
  return others(Object.fromEntries(given), new Set()).map(([fact, answer]) => frozen(fact, answer));
}

const MERGED = new Set<string>(MERGED_NAMES.map(([fact]) => fact));

/** What was said of one test or one line stands with that test or line. */
function others(said: Record<string, Said>, but = MERGED): [string, Said][] {
  return Object.entries(said).filter(
    ([fact, answer]) => answer && !fact.includes(":") && !but.has(fact),
  );
}

function frozen(fact: string, { asked, words, value, at, by }: Said): FrozenAnswer {
  return {
    ...{ fact, value, at },
    ...(asked && { asked }),
    ...(words && { words }),
    ...(by && { by: who_words(by) }),
  };
}

function tests_now(client: string): FrozenTest[] {
  return all("alert_test")
    .value.filter((test) => test.client === client)
    .slice(-MOST_TESTS)
    .map(({ line, applied_at, site, applied_by, result, read_at, read_by, from_paper }) =>
      without_gaps({ line, applied_at, site, applied_by, result, read_at, read_by, from_paper }),
    );
}

function decisions_now(service: string): FrozenDecision[] {
  return all("decision")
    .value.filter((decision) => decision.service === service)
    .map(({ rule, basis, saw, why, by, role, at }) =>
      without_gaps({ rule, basis, saw, why, by, role, at }),
    );
}

/** Leaves out what is not known: a record names only what there is. */
function without_gaps<F extends object>(fields: F): { [N in keyof F]: Exclude<F[N], undefined> } {
  const known = Object.entries(fields).filter(([, value]) => value !== undefined && value !== "");
  return Object.fromEntries(known) as { [N in keyof F]: Exclude<F[N], undefined> };
}
