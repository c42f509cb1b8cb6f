// What is asked of the safety rules days before a service: how its alert test will stand by then.
import type { SafetyReviewRequest } from "../api/shapes";
import { settings } from "../device/settings";
import { rfc3339 } from "../device/when";
import { all, one } from "../records/read";
import { line_named } from "../salon/alert_tests/alert_tests";
import { lines_of } from "../salon/alert_tests/due";
import { house_of_salon } from "../salon/alert_tests/terms";
import { type Service, tests_as_facts } from "./facts";

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
      tests: tests_as_facts(service).slice(0, 50),
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
