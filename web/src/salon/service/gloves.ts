// Gloves, wet work and air: said at the moment they matter, once per service, and put away by a tap.
import { kept } from "../../device/kept";
import { MINUTE_MS } from "../../device/when";
import { now_ms, type Running, running } from "./running";
import { zones_of } from "./services";

export type GlovesMoment = "mixing" | "rinsing";

const seen = kept<string[]>("hands_seen", []);
const MOST_REMEMBERED = 80;
const FETCHED_MS = 2 * MINUTE_MS;

/** Returns the moment a service is at for the hands; undefined where it is none, or was seen. */
export function gloves_moment(service: string): GlovesMoment | undefined {
  const rinses = running.value.some((clock) => clock.service === service && rinse_nears(clock));
  const mixes = zones_of(service).some(({ mix, first_section_at }) => mix && !first_section_at);
  const moment = rinses ? "rinsing" : mixes ? "mixing" : undefined;
  return moment && !seen.value.includes(key_of(service, moment)) ? moment : undefined;
}

/** Whether it is time for gloves for the rinse: soon enough to fetch them, not when all begins. */
function rinse_nears({ began_ms, most_ms, window, checks_min }: Running): boolean {
  const [look_min] = checks_min ?? [];
  const first_min = look_min ?? ("best" in window ? window.earliest : Number.POSITIVE_INFINITY);
  return now_ms.value >= Math.min(began_ms + first_min * MINUTE_MS, most_ms) - FETCHED_MS;
}

/** Puts a moment's words away for the rest of the service. */
export function gloves_seen(service: string, moment: GlovesMoment): void {
  seen.value = [...seen.peek(), key_of(service, moment)].slice(-MOST_REMEMBERED);
}

function key_of(service: string, moment: GlovesMoment): string {
  return `${service} ${moment}`;
}
