// The day as a calendar file (RFC 5545), so that another calendar rings while this page is closed.
import ICAL from "ical.js";
import { offset_at_ms } from "./zone";

/** An entry of the file: when it begins, how long it is if that is known, and when it rings. */
export interface DayEntry {
  uid: string;
  title: string;
  from_ms: number;
  until_ms?: number;
  /** Each alert with its words; before or after the beginning. */
  alerts: readonly { at_ms: number; words: string }[];
}

const DAY_MS = 24 * 3_600_000;
/** The file says how its zone's clock goes for this long on either side. */
const AROUND_MS = 370 * DAY_MS;

/**
 * Returns the file. Times are those of the wall clock in `zone`, an IANA name, and the file says
 * how that clock goes. In UTC they need no zone.
 */
export function calendar_file(entries: readonly DayEntry[], zone: string, made_ms: number): string {
  const calendar = new ICAL.Component("vcalendar");
  calendar.updatePropertyWithValue("version", "2.0");
  calendar.updatePropertyWithValue("prodid", "-//Basinside//Day//EN");
  const begins = entries.map(({ from_ms }) => from_ms);
  if (zone !== "UTC" && entries.length > 0) {
    calendar.addSubcomponent(zone_of(zone, Math.min(...begins), Math.max(...begins)));
  }
  for (const entry of entries) calendar.addSubcomponent(event_of(entry, zone, made_ms));
  return `${calendar.toString()}\r\n`;
}

function event_of(entry: DayEntry, zone: string, made_ms: number): ICAL.Component {
  const { uid, title, from_ms, until_ms, alerts } = entry;
  const event = new ICAL.Component("vevent");
  event.updatePropertyWithValue("uid", uid);
  event.updatePropertyWithValue("dtstamp", utc(made_ms));
  put_time(event, "dtstart", from_ms, zone);
  if (until_ms !== undefined && until_ms > from_ms) put_time(event, "dtend", until_ms, zone);
  event.updatePropertyWithValue("summary", title);
  for (const { at_ms, words } of alerts) {
    const alarm = new ICAL.Component("valarm");
    alarm.updatePropertyWithValue("action", "DISPLAY");
    alarm.updatePropertyWithValue("description", words);
    const after_s = Math.round((at_ms - from_ms) / 1000);
    alarm.updatePropertyWithValue("trigger", ICAL.Duration.fromSeconds(after_s));
    event.addSubcomponent(alarm);
  }
  return event;
}

function put_time(event: ICAL.Component, name: string, at_ms: number, zone: string): void {
  if (zone === "UTC") {
    event.updatePropertyWithValue(name, utc(at_ms));
    return;
  }
  const property = new ICAL.Property(name);
  property.setParameter("tzid", zone);
  property.setValue(wall(at_ms + offset_at_ms(zone, at_ms)));
  event.addProperty(property);
}

/** Returns how a zone's clock goes around two instants: each change of it by itself. */
function zone_of(zone: string, first_ms: number, last_ms: number): ICAL.Component {
  const component = new ICAL.Component("vtimezone");
  component.updatePropertyWithValue("tzid", zone);
  const from_ms = first_ms - AROUND_MS;
  let before_ms = offset_at_ms(zone, from_ms);
  component.addSubcomponent(observance("standard", from_ms, before_ms, before_ms));
  for (let day_ms = from_ms; day_ms < last_ms + AROUND_MS; day_ms += DAY_MS) {
    const after_ms = offset_at_ms(zone, day_ms + DAY_MS);
    if (after_ms === before_ms) continue;
    const at_ms = change_between(zone, day_ms, day_ms + DAY_MS);
    const kind = after_ms > before_ms ? "daylight" : "standard";
    component.addSubcomponent(observance(kind, at_ms, before_ms, after_ms));
    before_ms = after_ms;
  }
  return component;
}

function observance(
  kind: "standard" | "daylight",
  at_ms: number,
  before_ms: number,
  after_ms: number,
): ICAL.Component {
  const component = new ICAL.Component(kind);
  // By the clock that went until then (RFC 5545, 3.6.5).
  component.updatePropertyWithValue("dtstart", wall(at_ms + before_ms));
  component.updatePropertyWithValue("tzoffsetfrom", offset(before_ms));
  component.updatePropertyWithValue("tzoffsetto", offset(after_ms));
  return component;
}

/** Returns the instant, to the second, at which a zone's offset changes between two. */
function change_between(zone: string, from_ms: number, until_ms: number): number {
  const before_ms = offset_at_ms(zone, from_ms);
  let [early_s, late_s] = [Math.floor(from_ms / 1000), Math.ceil(until_ms / 1000)];
  while (late_s - early_s > 1) {
    const middle_s = Math.floor((early_s + late_s) / 2);
    if (offset_at_ms(zone, middle_s * 1000) === before_ms) early_s = middle_s;
    else late_s = middle_s;
  }
  return late_s * 1000;
}

function offset(ms: number): ICAL.UtcOffset {
  return ICAL.UtcOffset.fromSeconds(ms / 1000);
}

function utc(at_ms: number): ICAL.Time {
  return ICAL.Time.fromJSDate(new Date(at_ms), true);
}

/** Returns a wall clock's reading, as a time without a zone; `read_ms` reads as UTC would. */
function wall(read_ms: number): ICAL.Time {
  const at = new Date(read_ms);
  return ICAL.Time.fromData({
    year: at.getUTCFullYear(),
    month: at.getUTCMonth() + 1,
    day: at.getUTCDate(),
    hour: at.getUTCHours(),
    minute: at.getUTCMinutes(),
    second: at.getUTCSeconds(),
    isDate: false,
  });
}
