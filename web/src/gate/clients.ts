// Whether the grams of a client stay hidden outside the visit too: in kept formulas, in the client's
// history, in the record of another visit.
import { useLayoutEffect } from "preact/hooks";
import { all, one } from "../records/read";
import type { Entity } from "../records/shapes";
import { zones_of } from "../salon/service/services";
import { standing_of } from "../salon/service/standing";
import { is_for_client, may_mix, watch_gate } from "./held";
import { gate_of, say } from "./state";

/** How a client's grams are: shown, hidden, or hidden until the rules have answered. */
export type Grams = "shown" | "held" | "asking";

// What any visit without a mix has: it says nothing of the person.
const OF_NO_VISIT = new Set(["mix-not-chosen", "decision-unsigned"]);

/** Returns the visits of today whose next mix waits: the rules hold them or let them be mixed. */
export function visits_waiting(client: string, now_ms: number): readonly Entity<"service">[] {
  const tomorrow = new Date(now_ms).setHours(24, 0, 0, 0);
  return all("service").value.filter((service) => {
    if (service.client !== client) return false;
    const at_ms = Date.parse(service.planned_at ?? service.created_at);
    const standing = standing_of(service, now_ms);
    if (at_ms >= tomorrow || standing === "not_done" || standing === "done") return false;
    const waiting = zones_of(service.id).filter(({ first_section_at }) => !first_section_at);
    return waiting.some((zone) => is_for_client(service, zone));
  });
}

/**
 * Returns how the grams of a client are on a page that is not `visit`, the visit they belong to.
 *
 * A visit of today that the rules do not let be mixed hides them. Without one, what is on record of
 * the person does: a reaction, an allergy. While a mix is on the head nothing is hidden.
 */
export function grams_of_client(client: string, visit = "", now_ms = Date.now()): Grams {
  if (!one("client", client).value) return "shown"; // nobody's formula, or an erased client's
  const on_head = all("zone").value.some(
    ({ service, first_section_at, rinsed_at }) =>
      first_section_at && !rinsed_at && one("service", service ?? "").value?.client === client,
  );
  const waiting = visits_waiting(client, now_ms).filter(({ id }) => id !== visit);
  if (waiting.length > 0) {
    if (waiting.every(({ id }) => may_mix(id))) return "shown";
    return waiting.some(({ id }) => !gate_of(id).is_current) ? "asking" : "held";
  }
  if (on_head) return "shown";
  const { reply, is_current } = gate_of(client);
  if (!reply || !is_current) return "asking";
  const stops = reply.findings.some(
    ({ id, group, certain }) => group === "holds" && certain && !OF_NO_VISIT.has(id),
  );
  return stops ? "held" : "shown";
}

/** Returns the same while a page is open, and keeps asking the rules for it. */
export function use_grams(client: string, visit = ""): Grams {
  const waiting = visits_waiting(client, Date.now()).map(({ id }) => id);
  useLayoutEffect(() => watch_grams(client, waiting), [client, waiting.join()]);
  return grams_of_client(client, visit);
}

/** Returns the address of what holds a client: the visit that waits, else the client's page. */
export function what_holds(client: string): readonly ["service" | "client", string] {
  const [visit] = visits_waiting(client, Date.now());
  return visit ? ["service", visit.id] : ["client", client];
}

function watch_grams(client: string, visits: readonly string[]): () => void {
  if (!client) return () => undefined;
  // What the rules said on another page may be of other records by now.
  for (const id of [...visits, client]) say(id, { ...gate_of(id), is_current: false });
  const ends = visits.map(watch_gate);
  let ended = false;
  void import("./review").then(
    ({ watch_person }) => {
      if (!ended) ends.push(watch_person(client));
    },
    () => say(client, { is_current: false, sentence: "The safety rules did not load. Try again." }),
  );
  return () => {
    ended = true;
    for (const end of ends) end();
  };
}
