// What is asked of the safety rules days before a service: how its alert test will do by then.
import type { ServiceReviewRequest } from "../api/shapes";
import { settings } from "../device/settings";
import { rfc3339 } from "../device/when";
import { all } from "../records/read";
import type { Entity } from "../records/shapes";
import { lines_of } from "../salon/alert_tests/due";
import { records_of } from "./put_forward";

const MOST_LINES = 8;

/** Returns the question about a service of known lines; undefined without a known line. */
export function booking_question(
  service: Entity<"service">,
  now_ms: number,
): ServiceReviewRequest | undefined {
  const lines = lines_of(service);
  if (lines.length === 0 || !service.planned_at) return undefined;
  return {
    records: records_of(service, new Set(lines)),
    service: service.id,
    now: rfc3339(now_ms),
    starts_at: rfc3339(Math.max(Date.parse(service.planned_at), now_ms)),
    booking: lines_booked(service),
    time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC",
    profile: settings.value.profile,
  };
}

/** Returns the lines of a service, or of the visit before it, with their classes. */
export function lines_booked(
  service: Entity<"service">,
): NonNullable<ServiceReviewRequest["booking"]> {
  return lines_of(service)
    .slice(0, MOST_LINES)
    .map((line) => ({ line, ...class_of(line) }));
}

function class_of(line: string) {
  const of_line = all("zone")
    .value.flatMap(({ products }) => products ?? [])
    .find((product) => product.line === line);
  return of_line ? { product_class: of_line.class } : {};
}
