import ICAL from "ical.js";
import { describe, expect, test } from "vitest";
import { read_ics } from "./ics";
import { calendar_file, type DayEntry } from "./out";

const MINUTE_MS = 60_000;
const MADE_MS = Date.UTC(2026, 9, 24, 8);

const visit = (from_ms: number, title = "Wren Aldous"): DayEntry => ({
  uid: `visit ${from_ms}`,
  title,
  from_ms,
  alerts: [{ at_ms: from_ms - 10 * MINUTE_MS, words: title }],
});

/** The file as another program reads it: each event's name, with its instants by the file's zone. */
function read(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text) as unknown[]);
  ICAL.TimezoneService.reset();
  for (const zone of calendar.getAllSubcomponents("vtimezone")) {
    ICAL.TimezoneService.register(new ICAL.Timezone(zone));
  }
  return calendar.getAllSubcomponents("vevent").map((component) => {
    const event = new ICAL.Event(component);
    const from_ms = event.startDate.toUnixTime() * 1000;
    const alerts = component.getAllSubcomponents("valarm").map((alarm) => {
      const trigger = alarm.getFirstPropertyValue("trigger") as ICAL.Duration;
      return [from_ms + trigger.toSeconds() * 1000, alarm.getFirstPropertyValue("description")];
    });
    return { title: event.summary, from_ms, until_ms: event.endDate.toUnixTime() * 1000, alerts };
  });
}

describe("the day as a calendar file", () => {
  // London's clock goes back at 01:00 UTC on Sunday 25 October 2026 (IANA tz database, Rule EU).
  const BEFORE_MS = Date.UTC(2026, 9, 24, 9, 30);
  const AFTER_MS = Date.UTC(2026, 9, 25, 9, 30);

  test.each(["Europe/London", "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu", "UTC"])(
    "keeps each instant in %s, on either side of a change of the clock",
    (zone) => {
      const found = read(calendar_file([visit(BEFORE_MS), visit(AFTER_MS)], zone, MADE_MS));
      expect(found.map(({ from_ms }) => from_ms)).toEqual([BEFORE_MS, AFTER_MS]);
      expect(found[0]?.alerts).toEqual([[BEFORE_MS - 10 * MINUTE_MS, "Wren Aldous"]]);
    },
  );

  test("gives the wall clock with its zone, and says when that clock changes", () => {
    const text = calendar_file([visit(BEFORE_MS), visit(AFTER_MS)], "Europe/London", MADE_MS);
    expect(text).toContain("DTSTART;TZID=Europe/London:20261024T103000");
    expect(text).toContain("DTSTART;TZID=Europe/London:20261025T093000");
    const change = "BEGIN:STANDARD\r\nDTSTART:20261025T020000\r\n";
    expect(text).toContain(`${change}TZOFFSETFROM:+0100\r\nTZOFFSETTO:+0000\r\nEND:STANDARD`);
    expect(text).toContain("DTSTART:20260329T010000");
    expect(calendar_file([visit(BEFORE_MS)], "UTC", MADE_MS)).toContain("DTSTART:20261024T093000Z");
  });

  test("comes back as the same visits, and without its rinses", () => {
    const rinse: DayEntry = {
      uid: "rinse.zone-1",
      title: "Oona Pell, roots: rinse",
      from_ms: BEFORE_MS,
      until_ms: BEFORE_MS + 5 * MINUTE_MS,
      alerts: [
        { at_ms: BEFORE_MS, words: "look again" },
        { at_ms: BEFORE_MS + 5 * MINUTE_MS, words: "rinse now" },
      ],
    };
    const text = calendar_file([visit(BEFORE_MS, "Żyła; Still, 9"), rinse], "Europe/London", 0);
    const span = { from_ms: BEFORE_MS - 1, until_ms: AFTER_MS };
    const { appointments, left_out } = read_ics(text, span);
    expect(appointments.map(({ name, at_ms }) => [name, at_ms])).toEqual([
      ["Żyła; Still, 9", BEFORE_MS],
    ]);
    expect(left_out.map(({ words }) => words)).toEqual([
      "“Oona Pell, roots: rinse”: a rinse, and no appointment",
    ]);
    expect(read(text)[1]).toEqual({
      title: rinse.title,
      from_ms: BEFORE_MS,
      until_ms: BEFORE_MS + 5 * MINUTE_MS,
      alerts: [
        [BEFORE_MS, "look again"],
        [BEFORE_MS + 5 * MINUTE_MS, "rinse now"],
      ],
    });
  });

  test("has lines of 75 octets at most, each ended by CR and LF (RFC 5545, 3.1)", () => {
    const text = calendar_file([visit(BEFORE_MS, "ż".repeat(120))], "Europe/London", MADE_MS);
    const lines = text.split("\r\n");
    expect(lines.at(-1)).toBe("");
    for (const line of lines) {
      expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
      expect(line).not.toContain("\n");
    }
  });
});
