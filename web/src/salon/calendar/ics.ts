// Reads appointments from a calendar file (RFC 5545). Each one is read apart, so that a bad one
// costs only itself and is reported with its line.
import ICAL from "ical.js";
import { type Appointment, BadCalendar, type LeftOut, type ReadDays, type Span } from "./days";
import { instant_in } from "./zone";

interface Block {
  line: number;
  text: string;
}

// A daily appointment of a hundred years.
const MOST_STEPS = 40_000;

/** Returns the appointments of a calendar within a span. */
export function read_ics(text: string, span: Span): ReadDays {
  const { events, zones } = blocks_of(text);
  const left_out: LeftOut[] = [];
  const read: { line: number; event: ICAL.Event; component: ICAL.Component }[] = [];
  for (const { line, text: block } of events) {
    try {
      const calendar = new ICAL.Component(
        ICAL.parse(`BEGIN:VCALENDAR\r\n${zones}${block}END:VCALENDAR\r\n`) as unknown[],
      );
      const component = calendar.getFirstSubcomponent("vevent");
      if (!component) throw new Error("no event");
      read.push({ line, component, event: new ICAL.Event(component, { strictExceptions: false }) });
    } catch {
      left_out.push({ line, words: "an appointment that does not follow the calendar's own form" });
    }
  }

  const moved = new Map<string, ICAL.Event[]>();
  for (const { event } of read) {
    if (!event.isRecurrenceException()) continue;
    moved.set(event.uid, [...(moved.get(event.uid) ?? []), event]);
  }
  const appointments: Appointment[] = [];
  for (const { line, event, component } of read) {
    const outcome = why_not(event, component);
    if (outcome) {
      if (may_fall_within(event, span)) left_out.push({ line, words: outcome });
      continue;
    }
    try {
      appointments.push(...times_of(event, moved.get(event.uid) ?? [], line, span));
    } catch (why) {
      const words = why instanceof UnknownZone ? why.message : "a time that cannot be read";
      left_out.push({ line, words: `“${event.summary}”: ${words}` });
    }
  }
  return { appointments, left_out };
}

/** Why an event is no appointment with somebody; empty if it is one. */
function why_not(event: ICAL.Event, component: ICAL.Component): string {
  const name = event.summary?.trim();
  if (!component.hasProperty("dtstart")) return `“${name || "no name"}”: no time beside it`;
  if (!name) return "an appointment without a name";
  if (component.getFirstPropertyValue("status") === "CANCELLED") return `“${name}”: cancelled`;
  if (event.startDate.isDate) return `“${name}”: for the whole day, without a time`;
  return "";
}

/** A skipped event is reported only if it could concern the days in question. */
function may_fall_within(event: ICAL.Event, { from_ms, until_ms }: Span): boolean {
  const start = event.startDate as ICAL.Time | null;
  if (!start || event.isRecurring()) return true;
  const at_ms = start.toJSDate().getTime();
  // A day is compared a day wide: it is a date, which has no zone.
  return at_ms > from_ms - 86_400_000 && at_ms < until_ms + 86_400_000;
}

function times_of(
  event: ICAL.Event,
  others: readonly ICAL.Event[],
  line: number,
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
  for (let step = 0; step < MOST_STEPS; step += 1) {
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

class UnknownZone extends Error {}

/** Returns the instant of a time: by the file's zone, else by this device's. */
function instant_of(time: ICAL.Time, component: ICAL.Component): number {
  const property = component.getFirstProperty("dtstart");
  const named = property?.getFirstParameter("tzid");
  const floating = time.zone === ICAL.Timezone.localTimezone;
  if (!floating) return time.toUnixTime() * 1000;
  const { year, month, day, hour, minute } = time;
  if (!named) return new Date(year, month - 1, day, hour, minute).getTime();
  const at_ms = instant_in(named, [year, month, day, hour, minute]);
  if (at_ms === undefined) {
    throw new UnknownZone(`its time zone “${named}” is not in the file, nor known here`);
  }
  return at_ms;
}

/** Splits a calendar into its events and zones, each with the line it begins on. */
function blocks_of(text: string): { events: Block[]; zones: string } {
  const lines = text.split(/\r\n|\n|\r/);
  const events: Block[] = [];
  let zones = "";
  const open: { name: string; line: number }[] = [];
  let block: string[] = [];
  for (const [at, line] of lines.entries()) {
    const [, what, name = ""] = /^(BEGIN|END):([\w-]+)\s*$/i.exec(line) ?? [];
    if (what?.toUpperCase() === "BEGIN") {
      open.push({ name: name.toUpperCase(), line: at + 1 });
      if (open.length === 2) block = [];
    }
    if (open.length > 1) block.push(line);
    if (what?.toUpperCase() !== "END") continue;
    const opened = open.pop();
    if (opened?.name !== name.toUpperCase()) {
      throw new BadCalendar(
        `Line ${at + 1} ends a part (${name}) that never began. Save the calendar again.`,
      );
    }
    if (open.length !== 1) continue;
    const whole = `${block.join("\r\n")}\r\n`;
    if (opened.name === "VEVENT") events.push({ line: opened.line, text: whole });
    if (opened.name === "VTIMEZONE") zones += whole;
  }
  const [cut] = open.slice(-1);
  if (cut) {
    throw new BadCalendar(
      `This calendar is cut: what begins on line ${cut.line} (${cut.name}) does not end. Save it again.`,
    );
  }
  return { events, zones };
}
