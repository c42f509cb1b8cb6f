// Turns appointments into services on this phone: finds each client, and which services are here
// already. Ids follow from the appointment, so taking a file twice doubles nothing.
import { v5 as uuidv5 } from "uuid";
import { rfc3339 } from "../../device/when";
import { all, state_of } from "../../records/read";
import { type Change, together } from "../../records/write";
import { type Client, plain_text } from "../clients";
import { planning } from "../service/services";
import { author_first } from "../who";
import type { Appointment } from "./days";

// A name space of our own: the same appointment has the same id on every phone.
const APPOINTMENTS = "0b8f7a52-94e0-5c0e-8d5e-6f1f2d9f3a64";

type Arrival = "new" | "here" | "moved" | "deleted" | "under way";

export interface Proposed extends Appointment {
  /** Known clients it may be for; if there is only one, the first is meant. */
  clients: readonly Client[];
  service: string;
  arrival: Arrival;
  /** When it is planned here, if it was moved. */
  was_ms?: number;
}

/** Returns each appointment with its possible clients, and whether it is here already. */
export function proposed(appointments: readonly Appointment[]): Proposed[] {
  return appointments.map((appointment) => {
    const clients = clients_meant(appointment.name);
    return { ...appointment, clients, ...arrival_of(appointment, clients) };
  });
}

/** Known clients of that name; else those whose whole name is in the words. */
function clients_meant(words: string): Client[] {
  const wanted = plain_text(words);
  const named = all("client").value.map(
    (client) => [client, plain_text(client.name ?? "")] as const,
  );
  const same = named.filter(([, name]) => name === wanted);
  const inside = named.filter(
    ([, name]) => name && ` ${spaced(wanted)} `.includes(` ${spaced(name)} `),
  );
  return (same.length > 0 ? same : inside).map(([client]) => client);
}

const spaced = (text: string) => text.replace(/[^\p{L}\p{N}]+/gu, " ").trim();

function arrival_of(
  { key, at_ms }: Appointment,
  clients: readonly Client[],
): Pick<Proposed, "service" | "arrival" | "was_ms"> {
  const service = uuidv5(`service ${key}`, APPOINTMENTS);
  const here = all("service").value.find(({ id }) => id === service);
  if (here) {
    const was_ms = Date.parse(here.planned_at ?? "");
    if (was_ms === at_ms) return { service, arrival: "here" };
    return { service, was_ms, arrival: here.state === "planned" ? "moved" : "under way" };
  }
  if (state_of(service)) return { service, arrival: "deleted" };
  const typed = all("service").value.some(
    ({ client, planned_at, state }) =>
      state !== "cancelled" &&
      Date.parse(planned_at ?? "") === at_ms &&
      clients.some(({ id }) => id === client),
  );
  return { service, arrival: typed ? "here" : "new" };
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
  const { service, at_ms, name } = from;
  const planned_at = rfc3339(at_ms);
  if (from.arrival === "moved") {
    return [{ do: "change", kind: "service", id: service, fields: { planned_at } }];
  }
  const zone = uuidv5(`zone ${service}`, APPOINTMENTS);
  const whose = client ?? met.get(plain_text(name)) ?? uuidv5(`client ${service}`, APPOINTMENTS);
  const fresh = client === undefined && !met.has(plain_text(name));
  if (fresh) met.set(plain_text(name), whose);
  const meeting: Change = { do: "create", kind: "client", id: whose, fields: { name } };
  const wanted = [...(fresh ? [meeting] : []), ...planning(service, whose, planned_at, zone)];
  const moving: Change = { do: "change", kind: "service", id: service, fields: { planned_at } };
  return [...wanted.map(put_back_if_known), moving];
}

/** Brings an undone service back, since a record is made only once. */
function put_back_if_known(change: Change): Change {
  if (!state_of(change.id)) return change;
  return { do: "restore", kind: change.kind, id: change.id };
}
