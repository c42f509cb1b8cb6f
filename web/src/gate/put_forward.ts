// The records of one service as a safety review takes them: as they are shown here, and of each the
// fields that the rules read. Facts and plan are worked out from them behind the engine's door.
import type { RecordsOfService } from "../api/shapes";
import { rfc3339 } from "../device/when";
import { in_demo } from "../outbox/world";
import { type Kind, merge_of } from "../records/fold";
import { all, one } from "../records/read";
import type { Entity } from "../records/shapes";
import { lines_in_bowls } from "../salon/service/mixed";
import wanted from "./wanted.generated.json";

type Service = Entity<"service">;
/** Which fields are taken: each with those taken of it, or true for all there is. */
type Wanted = true | { [field: string]: Wanted };
type Fields = Record<string, unknown>;

/** Returns all records that a review of a service reads; `lines` are those in the bowls. */
export function records_of(
  service: Service,
  lines: ReadonlySet<string> = new Set(lines_in_bowls(service.id)),
): RecordsOfService {
  const { client } = service;
  const kept = all("service").value.filter((each) => each.client === client);
  // A visit that nobody planned yet is asked about as well: it is no record.
  const services = kept.some(({ id }) => id === service.id) ? kept : [...kept, service];
  const theirs = new Set(services.map(({ id }) => id));
  const of_line = (key: string) =>
    [...lines].some((line) => key.startsWith(`line card: ${line}: `));
  const asked_about = one("client", client ?? "").value;
  const records: { [K in Kind]?: readonly Entity<K>[] } = {
    client: asked_about ? [asked_about] : [],
    service: services,
    zone: all("zone").value.filter((zone) => theirs.has(zone.service ?? "")),
    alert_test: all("alert_test").value.filter((test) => test.client === client),
    history_entry: all("history_entry").value.filter((entry) => entry.client === client),
    line: all("line").value.filter(({ name = "" }) => lines.has(name)),
    setting: all("setting").value.filter(
      ({ key = "" }) => key === "alert_test_terms" || of_line(key),
    ),
    decision: all("decision").value.filter((decision) => decision.service === service.id),
  };
  const put = Object.entries(records).map(([kind, entities]) => [
    kind,
    entities.map((entity) => put_forward(kind as Kind, entity)),
  ]);
  return Object.fromEntries(put) as RecordsOfService;
}

/** Whose name stands where: the demo day asks without names, so that none can leave with it. */
const NAMES: { [K in Kind]?: string } = { client: "name", alert_test: "read_by", decision: "by" };

function put_forward(kind: Kind, entity: Entity): Fields {
  const { id, created_at, ...values } = entity as Entity & Fields;
  const fields = (wanted as Record<string, Record<string, Wanted>>)[kind] ?? {};
  const named = in_demo ? NAMES[kind] : undefined;
  const taken = Object.entries(fields)
    .filter(([name]) => values[name] !== undefined)
    .map(([name, of]) => [
      name,
      name === named
        ? "somebody"
        : merge_of(kind, name) === "each"
          ? answers(values[name] as Fields)
          : take(values[name], of),
    ]);
  return { id, created_at, ...Object.fromEntries(taken) };
}

function answers(said: Fields) {
  return Object.entries(said).flatMap(([fact, answer]) => {
    if (typeof answer !== "object" || answer === null) return [];
    const { value, at } = answer as Fields;
    return [{ fact, ...(value !== undefined && { value }), ...(at !== undefined && { at }) }];
  });
}

function take(value: unknown, of: Wanted): unknown {
  if (Array.isArray(value)) return value.map((item) => take(item, of));
  if (of === true || typeof value !== "object" || value === null) return value;
  const taken = Object.entries(of)
    .filter(([name]) => (value as Fields)[name] !== undefined)
    .map(([name, deeper]) => [name, take((value as Fields)[name], deeper)]);
  return Object.fromEntries(taken);
}

/** Returns the latest moment that any record here was made at: a clock set back opens nothing. */
export function seen_until(): string | undefined {
  const kinds = ["service", "zone", "alert_test", "decision", "client", "step"] as const;
  const made = kinds.flatMap((kind) => all(kind).value.map(({ created_at }) => created_at));
  const went_on = all("zone").value.flatMap(({ first_section_at, rinsed_at }) => [
    first_section_at ?? "",
    rinsed_at ?? "",
  ]);
  const moments_ms = [...made, ...went_on].map(Date.parse).filter(Number.isFinite);
  return moments_ms.length > 0 ? rfc3339(Math.max(...moments_ms)) : undefined;
}
