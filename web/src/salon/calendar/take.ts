// Turns appointments into services on this phone: finds each client, and which services are here
// already. Ids follow from the appointment, so taking a file twice doubles nothing.
import { v5 as uuidv5 } from "uuid";
import { wish_in, wish_words } from "../../bench/wish_words";
import { at_now, rfc3339 } from "../../device/when";
import { all, state_of } from "../../records/read";
import { type Change, together } from "../../records/write";
import { type Client, plain_text } from "../clients";
import { planning } from "../service/services";
import { author_first } from "../who";
import type { Appointment } from "./days";
import { bare, known_names, type Match, titled } from "./title";

// A name space of our own: the same appointment has the same id on every phone.
const APPOINTMENTS = "0b8f7a52-94e0-5c0e-8d5e-6f1f2d9f3a64";

/** The most appointments that are taken as one act. */
export const MOST_AT_ONCE = 300;

type Arrival = "new" | "here" | "moved" | "deleted" | "under way";

export interface Proposed extends Appointment {
  /** The client's name by the title, or as somebody corrected it. */
  called: string;
  /** The wish the title names, as it may be corrected: "level 9 pearl"; empty for none. */
  wish: string;
  /** What else the title says; it becomes a note. */
  rest: string;
  match: Match;
  /** Known clients it may be for; an exact one alone is meant, the others are asked about. */
  clients: readonly Client[];
  service: string;
  arrival: Arrival;
  /** When it is planned here, if it was moved. */
  was_ms?: number;
}

/** Returns each appointment with its possible clients, and whether it is here already. */
export function proposed(appointments: readonly Appointment[]): Proposed[] {
  const known = known_names(all("client").value);
  const services = new Map(all("service").value.map((service) => [service.id, service]));
  const planned = new Set(
    [...services.values()]
      .filter(({ state }) => state !== "cancelled")
      .map(({ client, planned_at }) => `${client} ${Date.parse(planned_at ?? "")}`),
  );
  return appointments.map((appointment) => {
    const { name, rest, ...found } = titled(appointment.name, known);
    const { key, at_ms } = appointment;
    const service = uuidv5(`service ${key}`, APPOINTMENTS);
    const here = services.get(service);
    const row = { ...appointment, ...found, ...wish_and_note(rest), called: name, service };
    if (here) {
      const was_ms = Date.parse(here.planned_at ?? "");
      if (was_ms === at_ms) return { ...row, arrival: "here" as const };
      return { ...row, was_ms, arrival: here.state === "planned" ? "moved" : "under way" };
    }
    if (state_of(service)) return { ...row, arrival: "deleted" };
    const typed =
      found.match === "exact" && found.clients.some(({ id }) => planned.has(`${id} ${at_ms}`));
    return { ...row, arrival: typed ? "here" : "new" };
  });
}

/** Parts what a title says beside the name into a wish and a note. */
function wish_and_note(rest: string): { wish: string; rest: string } {
  const found = wish_in(rest);
  if (!found) return { wish: "", rest };
  const [before = "", after = ""] = rest.split(found.words, 2).map(bare);
  return { wish: wish_words(found.wish), rest: [before, after].filter(Boolean).join("; ") };
}

/** Whether a row's wish, as it is corrected, names a level and a tone, or says nothing. */
export function is_wish(words: string): boolean {
  return words.trim() === "" || wish_in(words) !== undefined;
}

/** Returns a row under a corrected name, with the clients that name may be for. */
export function called(row: Proposed, name: string): Proposed {
  const { match, clients, rest } = titled(name, known_names(all("client").value));
  // A person who types a name means the whole name.
  if (rest || match === "none") return { ...row, called: name, match: "none", clients: [] };
  return { ...row, called: name, match, clients };
}

/** One appointment that is taken, and for whom; no client is a new one of that name. */
interface Chosen {
  from: Proposed;
  client?: string | undefined;
}

/** Plans services for the chosen appointments, all or none, as one act that one undo takes back. */
export async function take_in(chosen: readonly Chosen[]): Promise<void> {
  await author_first();
  const met = new Map<string, string>();
  const changes = chosen.flatMap(({ from, client }) => changes_of(from, client, met));
  const count = chosen.length;
  await together(changes, `Planned ${count} ${count === 1 ? "service" : "services"} from a file.`);
}

function changes_of(
  from: Proposed,
  client: string | undefined,
  met: Map<string, string>,
): Change[] {
  const { service, at_ms, rest, wish } = from;
  const name = from.called.trim();
  const planned_at = rfc3339(at_ms);
  if (from.arrival === "moved") {
    return [{ do: "change", kind: "service", id: service, fields: { planned_at } }];
  }
  const zone = uuidv5(`zone ${service}`, APPOINTMENTS);
  const whose = client ?? met.get(plain_text(name)) ?? uuidv5(`client ${service}`, APPOINTMENTS);
  const fresh = client === undefined && !met.has(plain_text(name));
  if (fresh) met.set(plain_text(name), whose);
  const meeting: Change = { do: "create", kind: "client", id: whose, fields: { name } };
  const note: Change = {
    do: "create",
    kind: "note",
    id: uuidv5(`note ${service}`, APPOINTMENTS),
    fields: { service, text: rest, at: at_now() },
  };
  const wanted = [
    ...(fresh ? [meeting] : []),
    ...planning(service, whose, planned_at, zone, wish_in(wish)?.wish),
    ...(rest ? [note] : []),
  ];
  const moving: Change = { do: "change", kind: "service", id: service, fields: { planned_at } };
  return [...wanted.map(put_back_if_known), moving];
}

/** Brings an undone service back, since a record is made only once. */
function put_back_if_known(change: Change): Change {
  if (!state_of(change.id)) return change;
  return { do: "restore", kind: change.kind, id: change.id };
}
