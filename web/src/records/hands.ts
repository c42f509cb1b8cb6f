// Gloves, wet work and air: said at the moment they matter, once per service, and put away by a tap.
import { kept } from "./kept";
import { running } from "./running";
import { zones_of } from "./services";

export type HandsMoment = "mixing" | "rinsing";

const seen = kept<string[]>("hands_seen", []);
const MOST_REMEMBERED = 80;

/** Returns the moment a service is at for the hands; undefined where it is none, or was seen. */
export function hands_moment(service: string): HandsMoment | undefined {
  const runs = running.value.some((clock) => clock.service === service);
  const mixes = zones_of(service).some(({ mix, first_section_at }) => mix && !first_section_at);
  const moment = runs ? "rinsing" : mixes ? "mixing" : undefined;
  return moment && !seen.value.includes(key_of(service, moment)) ? moment : undefined;
}

/** Puts a moment's words away for the rest of the service. */
export function hands_seen(service: string, moment: HandsMoment): void {
  seen.value = [...seen.peek(), key_of(service, moment)].slice(-MOST_REMEMBERED);
}

function key_of(service: string, moment: HandsMoment): string {
  return `${service} ${moment}`;
}
