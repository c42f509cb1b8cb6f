// Which planned clients' alert tests are to be looked at before they come, and the question that is
// asked of the safety rules for each. The rules themselves are the engine's; none is repeated here.
import { computed } from "@preact/signals";
import type { SafetyReviewRequest } from "../api/shapes";
import { type AlertTest, applied_ms, line_named, tests_of } from "./alert_tests";
import { all, one } from "./read";
import { last_service, type Service, zones_of } from "./services";
import { settings } from "./settings";
import { product_of } from "./shelf";
import { house_of_salon } from "./test_terms";
import { rfc3339 } from "./when";

const DAY_MS = 24 * 3_600_000;
/** How far ahead is looked: a test takes two days, and somebody has to come in for it. */
export const AHEAD_DAYS = 3;

/** The clients' services still to begin, of the coming days, the next first. */
export const coming = computed<readonly Service[]>(() => {
  const now_ms = Date.now();
  return all("service")
    .value.filter(({ state, purpose, planned_at }) => {
      const at_ms = Date.parse(planned_at ?? "");
      const open = state === "planned" && (purpose ?? "client") === "client";
      return open && at_ms >= now_ms - DAY_MS / 2 && at_ms <= now_ms + AHEAD_DAYS * DAY_MS;
    })
    .sort((a, b) => Date.parse(a.planned_at ?? "") - Date.parse(b.planned_at ?? ""));
});

/** Returns the lines a service is to be done with: its own mixes', or those of the last visit. */
export function lines_of(service: Service): readonly string[] {
  const own = lines_mixed(service.id);
  if (own.length > 0) return own;
  const before = service.client && last_service(service.client);
  return before ? lines_mixed(before.id) : [];
}

function lines_mixed(service: string): string[] {
  const products = zones_of(service).flatMap((zone) =>
    (zone.mix?.parts ?? []).map(({ product }) => {
      const kept = zone.products?.find(({ id }) => id === product);
      return kept?.line ?? product_of(product)?.line;
    }),
  );
  return [...new Set(products.flatMap((line) => line ?? []))];
}

/** Returns what is asked of the rules for a service of known lines; undefined while none is known. */
export function booking_question(
  service: Service,
  now_ms: number,
): SafetyReviewRequest | undefined {
  const lines = lines_of(service);
  if (lines.length === 0 || !service.planned_at) return undefined;
  const client = one("client", service.client ?? "").value;
  const starts_ms = Math.max(Date.parse(service.planned_at), now_ms);
  return {
    facts: {
      tests: tests_of(service.client ?? "")
        .slice(0, 50)
        .map(as_fact),
      ...(client?.black_tattoo && { black_tattoo: client.black_tattoo }),
    },
    plan: {
      lines: lines.slice(0, 8).map(as_card),
      areas: ["scalp"],
      moment: "booking",
      purpose: "client",
      house: house_of_salon(),
    },
    now: rfc3339(now_ms),
    starts_at: rfc3339(starts_ms),
    time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC",
    profile: settings.value.profile,
  } as SafetyReviewRequest;
}

function as_card(name: string) {
  const { leaflet_version, leaflet, class: of_class } = line_named(name) ?? {};
  const { min_hours, max_hours } = leaflet ?? {};
  return {
    line: name,
    product_class: of_class ?? class_of(name),
    ...(leaflet_version && { leaflet_version }),
    test: { ...(min_hours && { min_hours }), ...(max_hours && { max_hours }) },
  };
}

function class_of(line: string): string {
  const of_line = all("zone")
    .value.flatMap(({ products }) => products ?? [])
    .find((product) => product.line === line);
  return of_line?.class ?? "permanent";
}

/** Returns a test as the rules read it, with whether a colouring already relied on it. */
export function as_fact(test: AlertTest) {
  const used_before = used(test);
  return {
    line: test.line ?? "unknown",
    applied_at: test.applied_at ?? test.created_at,
    result: test.result ?? "not_read",
    from_paper: test.from_paper === true,
    ...(test.read_at && { read_at: test.read_at }),
    ...(test.read_by && { read_by: test.read_by }),
    ...(test.maker && { maker: test.maker }),
    ...(test.generation && { generation: test.generation }),
    ...(test.leaflet_version && { leaflet_version: test.leaflet_version }),
    ...(test.site && { site: test.site }),
    ...(test.method && { method: test.method }),
    ...(test.applied_by && { applied_by: test.applied_by }),
    ...(used_before && { used_before }),
  };
}

/** Returns undefined where these records cannot say: paper may have been relied on elsewhere. */
function used(test: AlertTest): "yes" | "no" | undefined {
  const line = test.line ?? "";
  const relied = all("service").value.some(
    ({ id, client }) =>
      client === test.client &&
      zones_of(id).some(
        ({ first_section_at }) => Date.parse(first_section_at ?? "") >= applied_ms(test),
      ) &&
      lines_mixed(id).includes(line),
  );
  if (relied) return "yes";
  return test.from_paper ? undefined : "no";
}
