// A reminder the phone's own calendar can keep: one event with an alarm (RFC 5545), since a page
// that is closed cannot ring.
import ICAL from "ical.js";

/**
 * Returns a calendar file for a test that can be read from `due_ms` on. Times are in UTC, so the
 * calendar shows them by the wall clock of wherever the phone is. Nothing about health is said in
 * it beyond what the title needs.
 */
export function reminder_file(uid: string, title: string, due_ms: number, made_ms: number): string {
  const calendar = new ICAL.Component("vcalendar");
  calendar.updatePropertyWithValue("version", "2.0");
  calendar.updatePropertyWithValue("prodid", "-//Basinside//Alert test//EN");
  const event = new ICAL.Component("vevent");
  event.updatePropertyWithValue("uid", uid);
  event.updatePropertyWithValue("dtstamp", utc(made_ms));
  event.updatePropertyWithValue("dtstart", utc(due_ms));
  event.updatePropertyWithValue("dtend", utc(due_ms + 15 * 60_000));
  event.updatePropertyWithValue("summary", title);
  const alarm = new ICAL.Component("valarm");
  alarm.updatePropertyWithValue("action", "DISPLAY");
  alarm.updatePropertyWithValue("description", title);
  alarm.updatePropertyWithValue("trigger", ICAL.Duration.fromSeconds(0));
  event.addSubcomponent(alarm);
  calendar.addSubcomponent(event);
  return `${calendar.toString()}\r\n`;
}

function utc(at_ms: number): ICAL.Time {
  return ICAL.Time.fromJSDate(new Date(at_ms), true);
}
