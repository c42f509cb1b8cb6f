// The moments that must not be missed: of each clock, when to look again and when to rinse.
import { type Step, steps_of } from "./order";
import type { Running } from "./running";

export interface Moment {
  /** Tells it from every other, on each phone alike: its zone, and what it was heard as. */
  key: string;
  /** What it asks for and when by the record, as it is written once somebody heard it. */
  heard_as: string;
  at_ms: number;
  zone: string;
  service: string;
  /** Whose hair, which part of it, and what is to be done. */
  client_name: string;
  zone_name: string;
  what: string;
  words: string;
  /** Whether it is the last: from then on the zone is late. */
  last: boolean;
}

/** Returns the moments of a clock in their order: its steps, but for the best one in between. */
export function moments_of(clock: Running): Moment[] {
  const { zone, service, client_name, zone_name, checks_min } = clock;
  const who = [client_name, zone_name].filter(Boolean).join(", ");
  return steps_of(clock)
    .filter(({ is }) => is !== "best")
    .map((step) => {
      const { at_ms, last } = step;
      const what = rung_words(step, checks_min !== undefined);
      const as = heard_as(step.is, at_ms - (clock.moved_ms ?? 0));
      const names = { key: `${zone} ${as}`, heard_as: as, zone, service, client_name, zone_name };
      return { ...names, at_ms, what, words: `${who}: ${what}`, last };
    });
}

/**
 * Returns what an alarm is heard as: what it asked for and its moment, to the second in UTC. Phones
 * agree on it, whatever their own clocks were moved by.
 */
export function heard_as(asked_for: string, at_ms: number): string {
  return `${asked_for} ${new Date(Math.round(at_ms)).toISOString().slice(0, 19)}Z`;
}

/** Returns what a step asks for when it rings. */
function rung_words({ is, words }: Step, lightener: boolean): string {
  switch (is) {
    case "look":
      return words.replace("look at", "look under the lightener, minute");
    case "look_again":
      return "look again";
    case "over":
      return `rinse now, the ${lightener ? "leaflet" : "maker"}’s time is over`;
    case "by":
      return "rinse now";
    default:
      return "look again, you can rinse from here";
  }
}

/** Returns the moments that have come and were not heard yet, the latest of each zone only. */
export function moments_due(
  clocks: readonly Running[],
  heard: readonly string[],
  at_ms: number,
): Moment[] {
  return clocks.flatMap((clock) => {
    const by_ms = at_ms - (clock.rings_late_ms ?? 0);
    const come = moments_of(clock).findLast((moment) => moment.at_ms <= by_ms);
    return come && !heard.includes(come.key) ? [come] : [];
  });
}

/** Returns when the next moment comes, or undefined when none is to come. */
export function next_moment_ms(clocks: readonly Running[], at_ms: number): number | undefined {
  const coming = clocks
    .flatMap((clock) => moments_of(clock).map((one) => one.at_ms + (clock.rings_late_ms ?? 0)))
    .filter((moment_ms) => moment_ms > at_ms);
  return coming.length > 0 ? Math.min(...coming) : undefined;
}

/** What rings for one client, in one row. */
export interface ServiceRings {
  service: string;
  words: string;
  moments: readonly Moment[];
}

/** Returns what rings, a row a service: the one that rang first on top. */
export function rings_by_service(ringing: readonly Moment[]): ServiceRings[] {
  const by_service = new Map<string, Moment[]>();
  for (const moment of [...ringing].sort((a, b) => a.at_ms - b.at_ms)) {
    by_service.set(moment.service, [...(by_service.get(moment.service) ?? []), moment]);
  }
  return [...by_service].map(([service, moments]) => ({
    service,
    words: moments.length === 1 ? (moments[0]?.words ?? "") : words_of(moments),
    moments,
  }));
}

/** "Wren: roots and ends, rinse now", or each zone with its own act. */
function words_of(moments: readonly Moment[]): string {
  const [first] = moments;
  const same = moments.every(({ what }) => what === first?.what);
  const zones = moments.map(({ zone_name, what }) => (same ? zone_name : `${zone_name} ${what}`));
  const list = same
    ? `${zones.slice(0, -1).join(", ")} and ${zones.at(-1)}, ${first?.what}`
    : zones.join("; ");
  return [first?.client_name, list].filter(Boolean).join(": ");
}
