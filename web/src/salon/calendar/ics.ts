// Reads appointments from a calendar file (RFC 5545). Each one is read apart, so that a bad one
// costs only itself and is reported with its line.
import ICAL from "ical.js";
import { type Block, blocks_of } from "./blocks";
import { type Appointment, type LeftOut, type ReadDays, RINSE_UID, type Span } from "./days";
import { instant_in } from "./zone";

// A daily appointment of a hundred years.
const MOST_STEPS = 40_000;
const DAY_MS = 86_400_000;
/** How far two clocks on earth can differ, and a day more: what lies further off is another day. */
const WIDE_MS = 2 * DAY_MS;

interface ReadEvent {
  block: Block;
  event: ICAL.Event;
  component: ICAL.Component;
}

/** Returns the appointments of a calendar within a span. */
export function read_ics(text: string, span: Span): ReadDays {
  const { events, zones, left_out } = blocks_of(text);
  const found: ReadDays = { appointments: [], left_out, outside: 0 };
  const read: ReadEvent[] = [];
  for (const block of events) {
    const fault = fault_in_time(block);
    if (fault) left_out.push(fault);
    else if (is_far(block, span)) found.outside += 1;
    else {
      try {
        read.push(event_of(block, zones));
      } catch {
        const words = `${named(block)}does not follow the calendar’s own form`;
        left_out.push({ line: block.line, words });
      }
    }
  }
  const moved = new Map<string, ICAL.Event[]>();
  for (const { event } of read) {
    if (!event.isRecurrenceException()) continue;
    moved.set(event.uid, [...(moved.get(event.uid) ?? []), event]);
  }
  for (const one of read) {
    try {
      const outcome = why_not(one);
      if (outcome) {
        if (may_fall_within(one.event, span)) {
          left_out.push({ line: one.block.line, words: outcome });
        }
        continue;
      }
      const times = times_of(one, moved.get(one.event.uid) ?? [], span);
      found.appointments.push(...times);
      if (times.length === 0) found.outside += 1;
    } catch (why) {
      const words = why instanceof Unread ? why.message : "a time that cannot be read";
      left_out.push({ line: one.block.line, words: `${named(one.block)}${words}` });
    }
  }
  return found;
}

function event_of(block: Block, zones: string): ReadEvent {
  const calendar = new ICAL.Component(
    ICAL.parse(`BEGIN:VCALENDAR\r\n${zones}${block.text}END:VCALENDAR\r\n`) as unknown[],
  );
  const component = calendar.getFirstSubcomponent("vevent");
  if (!component) throw new Error("no event");
  return { block, component, event: new ICAL.Event(component, { strictExceptions: false }) };
}

/** The title of an event that could not be read, with a colon; empty where it has none. */
function named({ text }: Block): string {
  const [, title = ""] = /^SUMMARY[^:\r\n]*:(.*)$/im.exec(text) ?? [];
  const words = title.replace(/\\([,;\\])/g, "$1").trim();
  return words ? `“${words}”: ` : "";
}

const START = /^DTSTART((?:;[^=:;]+=(?:"[^"]*"|[^":;]*))*):(.*)$/i;

/** Where and how an event says it starts; undefined where it does not. */
function start_of({ line, text }: Block): { line: number; value: string } | undefined {
  const lines = text.replace(/\r\n$/, "").split("\r\n");
  const at = lines.findIndex((one) => START.test(one));
  const value = START.exec(lines[at] ?? "")?.[2]?.trim();
  return value === undefined ? undefined : { line: line + at, value };
}

const MOMENT = /^(\d{4})(\d{2})(\d{2})(?:T(\d{2})(\d{2})(\d{2})Z?)?$/;

/** Names a start that is no date or time, by its own line. */
function fault_in_time(block: Block): LeftOut | undefined {
  const start = start_of(block);
  if (!start || day_ms(start.value) !== undefined) return undefined;
  return { line: start.line, words: `${named(block)}“${start.value}” is no time` };
}

/** Returns midnight of a moment's date, in ms, as if it were UTC; undefined for what is no moment. */
function day_ms(value: string): number | undefined {
  const [whole, ...parts] = MOMENT.exec(value) ?? [];
  const [year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0] = parts.map((part) =>
    Number(part ?? 0),
  );
  if (!whole || hour > 23 || minute > 59 || second > 60) return undefined;
  const at = new Date(Date.UTC(year, month - 1, day));
  const sound = at.getUTCMonth() === month - 1 && at.getUTCDate() === day;
  return sound ? at.getTime() : undefined;
}

/** Whether an event that is not repeated is of another day, whatever its zone. */
function is_far(block: Block, { from_ms, until_ms }: Span): boolean {
  if (/^(?:RRULE|RDATE|RECURRENCE-ID)[;:]/im.test(block.text)) return false;
  const at_ms = day_ms(start_of(block)?.value ?? "");
  return at_ms !== undefined && (at_ms < from_ms - WIDE_MS || at_ms > until_ms + WIDE_MS);
}

/** Why an event is no appointment with somebody; empty if it is one. */
function why_not({ event, component }: ReadEvent): string {
  const name = event.summary?.trim();
  if (!component.hasProperty("dtstart")) return `“${name || "no name"}”: no time beside it`;
  if (!name) return "an appointment without a name";
  if (component.getFirstPropertyValue("status") === "CANCELLED") return `“${name}”: cancelled`;
  if (event.uid?.startsWith(RINSE_UID)) return `“${name}”: a rinse, and no appointment`;
  if (event.startDate.isDate) return `“${name}”: for the whole day, without a time`;
  return "";
}

/** A skipped event is reported only if it could concern the days in question. */
function may_fall_within(event: ICAL.Event, { from_ms, until_ms }: Span): boolean {
  const start = event.startDate as ICAL.Time | null;
  if (!start || event.isRecurring()) return true;
  const at_ms = start.toJSDate().getTime();
  // A day is compared a day wide: it is a date, which has no zone.
  return at_ms > from_ms - DAY_MS && at_ms < until_ms + DAY_MS;
}

function times_of(
  { event, block: { line } }: ReadEvent,
  others: readonly ICAL.Event[],
  { from_ms, until_ms }: Span,
): Appointment[] {
  const name = event.summary.trim();
  const within = (at_ms: number) => at_ms >= from_ms && at_ms < until_ms;
  const uid = event.uid || `${name} ${event.startDate}`;
  if (event.isRecurrenceException()) {
    const at_ms = instant_of(event.startDate, event.component);
    const key = `${uid} ${instant_of(event.recurrenceId, event.component)}`;
    return within(at_ms) ? [{ key, name, at_ms, line }] : [];
  }
  if (!event.isRecurring()) {
    const at_ms = instant_of(event.startDate, event.component);
    return within(at_ms) ? [{ key: uid, name, at_ms, line }] : [];
  }
  // A moved or cancelled repetition is an event of its own.
  const elsewhere = new Set(others.map((o) => instant_of(o.recurrenceId, o.component)));
  const found: Appointment[] = [];
  const steps = event.iterator();
  for (let step = 0; ; step += 1) {
    if (step === MOST_STEPS) throw new Unread("it is repeated too often to be read to its end");
    const time = steps.next() as ICAL.Time | null;
    if (!time) break;
    const at_ms = instant_of(time, event.component);
    if (at_ms >= until_ms) break;
    if (within(at_ms) && !elsewhere.has(at_ms)) {
      found.push({ key: `${uid} ${at_ms}`, name, at_ms, line });
    }
  }
  return found;
}

/** What of an event cannot be read, in words. */
class Unread extends Error {}

/** Returns the instant of a time: by the file's zone, else by this device's. */
function instant_of(time: ICAL.Time, component: ICAL.Component): number {
  const property = component.getFirstProperty("dtstart");
  const named_zone = property?.getFirstParameter("tzid");
  const floating = time.zone === ICAL.Timezone.localTimezone;
  if (!floating) return time.toUnixTime() * 1000;
  const { year, month, day, hour, minute } = time;
  if (!named_zone) return new Date(year, month - 1, day, hour, minute).getTime();
  const at_ms = instant_in(named_zone, [year, month, day, hour, minute]);
  if (at_ms === undefined) {
    throw new Unread(`its time zone “${named_zone}” is not in the file, nor known here`);
  }
  return at_ms;
}
