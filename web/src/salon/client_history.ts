// Everything about a client in the order it happened, the newest first, by any author.

import { all } from "../records/read";
import type { Entity } from "../records/shapes";
import { mix_words } from "../shelf/shelf";
import { test_words, tests_of } from "./alert_tests/alert_tests";
import { history_of, notes_of_client, notes_of_service, services_of } from "./clients";
import { reactions_of, sign_words } from "./reactions";
import { foretold, type Service, type Zone, zones_of } from "./service/services";
import { standing_words } from "./service/standing";

export interface Befell {
  id: string;
  at: string;
  what: string;
  words: string;
  by: string;
  /** The record to open for it; undefined if it has no page of its own. */
  place?: "service" | "test" | "formula";
}

/** Returns everything on a client: services with what was mixed, looks, notes, tests, reactions. */
export function whole_history(client: string): readonly Befell[] {
  const services = services_of(client);
  return [
    ...services.flatMap(of_service),
    ...notes_of_client(client).map(of_note),
    ...history_of(client).map(({ id, what = "", at, created_at, by }) => ({
      ...{ id, at: at ?? created_at, what: "hair’s history", words: what, by },
    })),
    ...tests_of(client).map((test) => ({
      id: test.id,
      at: test.read_at ?? test.applied_at ?? test.created_at,
      what: "alert test",
      words: `${test.line ?? ""}: ${test_words(test, Date.now())}`,
      by: test.by,
      place: "test" as const,
    })),
    ...reactions_of(client).map(({ id, at, created_at, signs = [], done, by }) => ({
      id,
      at: at ?? created_at,
      what: "reaction",
      words: [signs.map(sign_words).join(", "), done].filter(Boolean).join(". "),
      by,
    })),
    ...all("formula")
      .value.filter((formula) => formula.client === client)
      .map(({ id, name = "", created_at, by }) => ({
        ...{ id, at: created_at, what: "formula kept", words: name, by, place: "formula" as const },
      })),
  ].sort((a, b) => Date.parse(b.at) - Date.parse(a.at) || (a.id < b.id ? 1 : -1));
}

function of_service(service: Service): Befell[] {
  const { id, planned_at, created_at, by, person } = service;
  const zones = zones_of(id);
  const mixed = zones
    .filter(({ mix, first_section_at }) => mix && first_section_at)
    .map(done_words);
  return [
    {
      id,
      at: planned_at ?? created_at,
      what: "service",
      words: [standing_words(service, Date.now()), ...mixed].join("; "),
      by: person ?? by,
      place: "service",
    },
    ...notes_of_service(id).map(of_note),
    ...of_its("step", id).map((step) => ({ ...of_moment(step), words: step.what ?? "" })),
    ...of_its("decision", id).map(({ saw = "", why = "", ...decision }) => ({
      ...of_moment(decision),
      what: "decision",
      words: [saw, why].filter(Boolean).join(": "),
    })),
    ...of_its("reading", id).map(({ words = "", minute, ...reading }) => ({
      ...of_moment(reading),
      what: "look",
      words: [words.replaceAll("_", " "), minute !== undefined && `minute ${minute}`]
        .filter(Boolean)
        .join(", "),
    })),
  ];
}

/** Returns what went on a zone, and what was foretold of it. */
function done_words(zone: Zone): string {
  const told = foretold(zone);
  const mixed = `${zone.name}: ${zone.mix ? mix_words(zone.mix) : ""}`;
  return told ? `${mixed}, ${told.label}: ${told.colour.words}` : mixed;
}

function of_note({ id, text = "", at, created_at, by }: Entity<"note">): Befell {
  return { id, at: at ?? created_at, what: "note", words: text || "a photo", by };
}

function of_moment({
  id,
  at,
  created_at,
  by,
}: Pick<Entity<"step">, "id" | "created_at" | "by"> & { at?: string }) {
  return { id, at: at ?? created_at, what: "step", by };
}

function of_its<K extends "step" | "decision" | "reading">(kind: K, service: string) {
  return all(kind).value.filter((one) => one.service === service);
}
