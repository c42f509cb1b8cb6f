// The visit that follows one: planned for a day some weeks on, with the same hair, wish and mix.
// Its id follows from the visit before it, so that two phones plan it once.
import { v5 as uuidv5 } from "uuid";
import {
  date_words,
  day_of,
  days_on,
  instant_on,
  minute_on_wall,
  rfc3339,
  time_of_day,
} from "../../device/when";
import { one, state_of } from "../../records/read";
import { type Change, together } from "../../records/write";
import { author_first } from "../who";
import { as_last_time, last_service, planning, type Service, zones_of } from "./services";

// A name space of our own.
const NEXT_VISITS = "5f0a4c7e-2f5b-5b53-9c1e-7f0d54f4c9b1";

/** What a next visit follows: a visit, or for a client nothing was mixed for, the client alone. */
export interface Follows {
  client: string;
  before: Service | undefined;
}

/** Returns what the next visit of a client follows: their last visit that was mixed for and ended. */
export function last_of(client: string): Follows {
  return { client, before: last_service(client) };
}

const id_of = ({ client, before }: Follows) =>
  uuidv5(`next visit ${before?.id ?? client}`, NEXT_VISITS);

/** Returns the visit that is planned after another; undefined for none. */
export function next_visit(after: Follows): Service | undefined {
  return one("service", id_of(after)).value;
}

/** Returns a next visit as the page shows it, with its weeks from an instant's day. */
export function next_visit_shown(visit: Service | undefined, from_ms: number) {
  if (!visit) return undefined;
  const { id, state, planned_at = "" } = visit;
  const at = new Date(planned_at);
  const weeks = weeks_between(from_ms, at.getTime());
  const words = `${date_words(planned_at)}, ${time_of_day(at.getTime())}`;
  return { id, words, open: state === "planned", ...(weeks !== undefined && { weeks }) };
}

/** Returns how many weeks lie between two instants' days; undefined where it is no whole number. */
export function weeks_between(from_ms: number, to_ms: number): number | undefined {
  const noon = (at_ms: number) => Date.parse(`${day_of(at_ms)}T12:00:00Z`);
  const weeks = (noon(to_ms) - noon(from_ms)) / (7 * 24 * 3_600_000);
  return Number.isInteger(weeks) ? weeks : undefined;
}

/** Returns the moment so many weeks after an instant, by the same time on the wall. */
export function in_weeks(from_ms: number, weeks: number, minute = minute_on_wall(from_ms)): string {
  return rfc3339(instant_on(days_on(day_of(from_ms), weeks * 7), minute));
}

/** Plans the visit that follows for a moment, or moves it there; one act that one undo takes back. */
export async function plan_next(after: Follows, planned_at: string): Promise<void> {
  await author_first();
  const id = id_of(after);
  const { before } = after;
  const moved: Change = { do: "change", kind: "service", id, fields: { planned_at } };
  const wanted = state_of(id) ? [] : changes_of(id, after, planned_at);
  const back: Change[] =
    state_of(id) && !one("service", id).peek() ? [{ do: "restore", kind: "service", id }] : [];
  const said: Change[] = before
    ? [
        {
          do: "change",
          kind: "service",
          id: before.id,
          fields: { next_visit: planned_at.slice(0, 10) },
        },
      ]
    : [];
  const words = `Next visit: ${date_words(planned_at)}.`;
  await together([...wanted, ...back, moved, ...said], words);
}

/** Takes the next visit away again. */
export async function no_next(after: Follows): Promise<void> {
  const { before } = after;
  const gone: Change = { do: "remove", kind: "service", id: id_of(after) };
  const unsaid: Change[] = before
    ? [{ do: "change", kind: "service", id: before.id, fields: { next_visit: null } }]
    : [];
  await together([gone, ...unsaid], "Took the next visit away.");
}

function changes_of(service: string, { client, before }: Follows, planned_at: string): Change[] {
  const zone = (order: number) => uuidv5(`zone ${service} ${order}`, NEXT_VISITS);
  const [plan, first] = planning(service, client, planned_at, zone(0));
  const mixed = before ? zones_of(before.id).filter(({ mix }) => mix) : [];
  const same = mixed.map(
    (was, order): Change => ({
      do: "create",
      kind: "zone",
      id: zone(order),
      fields: { ...as_last_time(was, order, client), service },
    }),
  );
  const person: Change[] = before?.person
    ? [{ do: "change", kind: "service", id: service, fields: { person: before.person } }]
    : [];
  return [...(plan ? [plan] : []), ...(same.length > 0 ? same : first ? [first] : []), ...person];
}
