// How far a service has come, in words.

import { mix_words } from "../../shelf/shelf";
import { running } from "./running";
import { type Service, zones_of } from "./services";

/** Returns how far a service is: "all over: rinse from 8", "nothing mixed yet". */
export function progress_words(service: Service): string {
  if (service.state === "ended") return "ended";
  const clock = running.value.find(({ service: of }) => of === service.id);
  if (clock) return `${clock.zone_name}: ${clock.due.words}`;
  const zones = zones_of(service.id);
  if (zones.some(({ rinsed_at }) => rinsed_at)) return "rinsed, result to come";
  const mix = zones.find((zone) => zone.mix)?.mix;
  return mix ? mix_words(mix) : "nothing mixed yet";
}
