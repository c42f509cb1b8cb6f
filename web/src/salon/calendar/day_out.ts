// What of a day another calendar can ring for: the visits to come, and the rinses of what runs.
import { services_on } from "../service/day";
import { moments_of } from "../service/moments";
import { type Running, running } from "../service/running";
import { client_name } from "../service/services";
import { RINSE_UID } from "./days";
import type { DayEntry } from "./out";

const MINUTE_MS = 60_000;
/** How long before a visit its alert comes. */
export const BEFORE_VISIT_MIN = 10;

/** Returns the entries of the visits planned on a day ("2026-11-30"), and of every running clock. */
export function entries_of(day: string): DayEntry[] {
  return [...visits_of(day), ...running.value.flatMap(rinse_of)];
}

function visits_of(day: string): DayEntry[] {
  return services_on(day)
    .filter(({ state }) => state === "planned")
    .map((service) => {
      const from_ms = Date.parse(service.planned_at ?? "");
      const title = client_name(service) || "Visit";
      const at_ms = from_ms - BEFORE_VISIT_MIN * MINUTE_MS;
      return { uid: service.id, title, from_ms, alerts: [{ at_ms, words: title }] };
    });
}

/** A running clock as one entry, from its first moment to its last; each moment is an alert. */
function rinse_of(clock: Running): DayEntry[] {
  const moments = moments_of(clock);
  const [first, last] = [moments[0], moments.at(-1)];
  if (!first || !last) return [];
  const who = [clock.client_name, clock.zone_name].filter(Boolean).join(", ");
  return [
    {
      uid: `${RINSE_UID}${clock.zone}`,
      title: `${who}: rinse`,
      from_ms: first.at_ms,
      until_ms: last.at_ms,
      alerts: moments.map(({ at_ms, words }) => ({ at_ms, words })),
    },
  ];
}
