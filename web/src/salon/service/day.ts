// The services of one day, and those of earlier days that are not over.
import { computed } from "@preact/signals";
import { day_of } from "../../device/when";
import { all } from "../../records/read";
import { running } from "./running";
import type { Service } from "./services";
import { standing_of } from "./standing";

const HOUR_MS = 3_600_000;
/** How long after its planned time a rinsed service still belongs to the day that follows. */
const OVER_MIDNIGHT_H = 12;
/** And for how long after its last rinse one that is over: the evening is still today at night. */
const OVER_H = 4;
/** How many days back a service that never began is looked for. */
const DAYS_BACK = 14;

const by_time = (a: Service, b: Service) =>
  Date.parse(a.planned_at ?? "") - Date.parse(b.planned_at ?? "");

const by_day = computed(() => {
  const days = new Map<string, Service[]>();
  for (const service of all("service").value) {
    const at_ms = Date.parse(service.planned_at ?? "");
    if (service.state === "cancelled" || Number.isNaN(at_ms)) continue;
    const day = day_of(at_ms);
    const others = days.get(day);
    if (others) others.push(service);
    else days.set(day, [service]);
  }
  for (const services of days.values()) services.sort(by_time);
  return days;
});

/** Returns the services planned on a day, "YYYY-MM-DD", by time. */
export function services_on(day: string): readonly Service[] {
  return by_day.value.get(day) ?? [];
}

/** Returns the services of earlier days that run still, wait for their result, or just ended. */
export function still_on(today: string, now_ms: number): readonly Service[] {
  const on_head = new Set(running.value.map(({ service }) => service));
  const is_late = (service: Service) => {
    const since_h = (now_ms - Date.parse(service.planned_at ?? "")) / HOUR_MS;
    if (since_h >= OVER_MIDNIGHT_H) return false;
    const standing = standing_of(service, now_ms);
    return (
      standing === "rinsed" || (standing === "done" && now_ms - last_ms(service) < OVER_H * HOUR_MS)
    );
  };
  return all("service")
    .value.filter(
      (service) =>
        (service.state === "started" || service.state === "ended") &&
        day_of(Date.parse(service.planned_at ?? "")) < today &&
        (on_head.has(service.id) || is_late(service)),
    )
    .sort(by_time);
}

/** Returns when the last zone of a service was rinsed, in ms; its planned time if none was. */
function last_ms({ id, planned_at }: Service): number {
  const rinsed = all("zone").value.flatMap(({ service, rinsed_at }) =>
    service === id && rinsed_at ? [Date.parse(rinsed_at)] : [],
  );
  return Math.max(Date.parse(planned_at ?? ""), ...rinsed);
}

/** Returns what the list of today shows: what is left of the evening before, and today's own. */
export function listed_on(today: string, now_ms: number): readonly Service[] {
  return [...still_on(today, now_ms), ...services_on(today)];
}

/** Returns the services of the last two weeks that never began and of which nobody said why. */
export function never_begun(today: string): readonly Service[] {
  const begun = new Set(
    all("zone").value.flatMap(({ service, first_section_at }) =>
      first_section_at ? [service ?? ""] : [],
    ),
  );
  const first_ms = Date.parse(`${today}T00:00:00Z`) - (DAYS_BACK + 1) * 24 * HOUR_MS;
  return all("service")
    .value.filter(({ id, state, planned_at, not_done, purpose }) => {
      const at_ms = Date.parse(planned_at ?? "");
      if (state !== "planned" || not_done || (purpose ?? "client") !== "client") return false;
      return at_ms > first_ms && day_of(at_ms) < today && !begun.has(id);
    })
    .sort(by_time);
}

/** Returns a client's next visit that has not begun, or the last that never did; undefined for none. */
export function open_visit(client: string): Service | undefined {
  const begun = new Set(all("zone").value.flatMap((z) => (z.first_section_at ? [z.service] : [])));
  const open = all("service")
    .value.filter(
      ({ id, client: of, state, not_done }) =>
        of === client && state === "planned" && !not_done && !begun.has(id),
    )
    .sort(by_time);
  const from_ms = Date.now() - OVER_MIDNIGHT_H * HOUR_MS;
  return open.find(({ planned_at }) => Date.parse(planned_at ?? "") > from_ms) ?? open.at(-1);
}
