// The moments that must not be missed: of each clock, when to look again and when to rinse.

import { MINUTE_MS } from "../../device/when";
import type { Running } from "./running";

export interface Moment {
  /** Tells it from every other, and from the same one once the clock was moved. */
  key: string;
  at_ms: number;
  service: string;
  words: string;
  /** Whether it is the last: from then on the zone is late. */
  last: boolean;
}

/** Returns the moments of a clock in their order. */
export function moments_of(clock: Running): Moment[] {
  const { zone, service, client_name, zone_name, began_ms, most_ms, window, checks_min } = clock;
  const who = [client_name, zone_name].filter(Boolean).join(", ");
  const moment = (at: number, what: string, last: boolean): Moment => {
    const at_ms = Math.min(at, most_ms);
    return { key: `${zone} ${at_ms} ${last}`, at_ms, service, words: `${who}: ${what}`, last };
  };
  if (checks_min) {
    return [
      ...checks_min.map((minute) =>
        moment(began_ms + minute * MINUTE_MS, `look under the lightener, minute ${minute}`, false),
      ),
      moment(most_ms, "rinse now, the leaflet’s time is over", true),
    ];
  }
  if ("reason" in window) return [moment(most_ms, "rinse now, the maker’s time is over", true)];
  return [
    moment(began_ms + window.earliest * MINUTE_MS, "look again, you can rinse from here", false),
    moment(began_ms + window.latest * MINUTE_MS, "rinse now", true),
  ];
}

/** Returns the moments that have come and were not heard yet, the latest of each zone only. */
export function moments_due(
  clocks: readonly Running[],
  heard: readonly string[],
  at_ms: number,
): Moment[] {
  return clocks.flatMap((clock) => {
    const come = moments_of(clock).findLast((moment) => moment.at_ms <= at_ms);
    return come && !heard.includes(come.key) ? [come] : [];
  });
}

/** Returns when the next moment comes, or undefined when none is to come. */
export function next_moment_ms(clocks: readonly Running[], at_ms: number): number | undefined {
  const coming = clocks.flatMap(moments_of).filter((moment) => moment.at_ms > at_ms);
  return coming.length > 0 ? Math.min(...coming.map((moment) => moment.at_ms)) : undefined;
}
