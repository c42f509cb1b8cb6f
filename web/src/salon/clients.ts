// Clients for the screens: found by name, with their services, notes and history.
import { computed } from "@preact/signals";
import { all } from "../records/read";
import type { Entity } from "../records/shapes";
import { grouped, type Note, not_corrected } from "./notes";

export { type Note, notes_of_service } from "./notes";

export type Client = Entity<"client">;

/** Returns a text as the search reads it: small letters, no accents, single spaces. */
export function plain_text(text: string): string {
  return text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLocaleLowerCase()
    .replace(/\s+/g, " ")
    .trim();
}

const by_name = computed(() =>
  all("client")
    .value.map((client) => ({
      client,
      text: plain_text(`${client.name ?? ""} ${client.phone ?? ""}`),
    }))
    .sort((a, b) => a.text.localeCompare(b.text)),
);

/** Returns the clients whose name or number holds every word typed, by name; all for none. */
export function clients_found(typed: string): Client[] {
  const words = plain_text(typed).split(" ").filter(Boolean);
  return by_name.value
    .filter(({ text }) => words.every((word) => text.includes(word)))
    .map(({ client }) => client);
}

/** Returns the clients whose name holds a text, accents and case apart; none for an empty one. */
export function found_by_name(typed: string): Client[] {
  const wanted = plain_text(typed);
  if (!wanted) return [];
  return all("client").value.filter(({ name }) => plain_text(name ?? "").includes(wanted));
}

/** Returns the clients of exactly this name, accents and case apart. */
export function clients_named(typed: string): Client[] {
  const wanted = plain_text(typed);
  return found_by_name(typed).filter(({ name }) => plain_text(name ?? "") === wanted);
}

const services_by_client = computed(() => grouped(all("service").value, ({ client }) => client));
const notes_by_client = computed(() => grouped(all("note").value, ({ client }) => client));
const history_by_client = computed(() =>
  grouped(all("history_entry").value, ({ client }) => client),
);

/** Returns a client's services, the newest first. */
export function services_of(client: string): readonly Entity<"service">[] {
  const found = services_by_client.value.get(client) ?? [];
  return [...found].sort((a, b) => (b.planned_at ?? "").localeCompare(a.planned_at ?? ""));
}

/** Returns the notes on a client that belong to no service, in the order of writing. */
export function notes_of_client(client: string): readonly Note[] {
  return not_corrected(notes_by_client.value.get(client) ?? []).filter(({ service }) => !service);
}

/** Returns what happened to a client's hair elsewhere or before, in the order of entry. */
export function history_of(client: string): readonly Entity<"history_entry">[] {
  return not_corrected(history_by_client.value.get(client) ?? []);
}
