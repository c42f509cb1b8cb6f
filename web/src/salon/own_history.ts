// What was put on a client's hair here: part of the hair's history, beside what was done elsewhere.
import { all, one } from "../records/read";
import type { Entity } from "../records/shapes";
import { mix_words } from "../shelf/shelf";

/** One mix or lightener that went on here. */
export interface PutOnHere {
  zone: string;
  service: string;
  /** When its first section went on. */
  at: string;
  what: string;
}

/** Returns all that went on a client's hair here, the latest first. */
export function put_on_here(client: string): readonly PutOnHere[] {
  return all("zone")
    .value.filter((zone) => zone.first_section_at && client_of(zone) === client)
    .map((zone) => ({
      zone: zone.id,
      service: zone.service ?? "",
      at: zone.first_section_at ?? "",
      what: `${what_words(zone)} on ${zone.name ?? "the hair"}`,
    }))
    .sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
}

function client_of({ service }: Entity<"zone">): string | undefined {
  return one("service", service ?? "").value?.client;
}

function what_words({ work, mix, lightener }: Entity<"zone">): string {
  if (work === "lightener") return `lightened with ${lightener?.kind ?? "a lightener"}`;
  return mix ? mix_words(mix) : "a mix not recorded";
}
