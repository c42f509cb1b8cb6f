import ICAL from "ical.js";
import { describe, expect, it } from "vitest";
import { test_words as words_of } from "./alert_tests";
import { dab_of } from "./dab";
import { reminder_file } from "./reminder";

const DUE = Date.UTC(2026, 2, 30, 10, 0);

describe("the dab", () => {
  it("is mixed in the line's ratio, to the scale's step", () => {
    expect(dab_of(1, 4)).toEqual({ colour_g: 2, developer_g: 2 });
    expect(dab_of(2, 4)).toEqual({ colour_g: 1.3, developer_g: 2.6 });
  });

  it("stays between 2 and 10 g, the bounds of the contract", () => {
    expect(dab_of(1, 40)).toEqual({ colour_g: 5, developer_g: 5 });
    expect(dab_of(0, 1)).toEqual({ colour_g: 2, developer_g: 0 });
  });
});

describe("the reminder", () => {
  // RFC 5545: 3.6 needs VERSION and PRODID, 3.6.1 UID and DTSTAMP, 3.6.6 ACTION and TRIGGER.
  it("is one event with an alarm at the moment the test can be read", () => {
    const text = reminder_file("test-1", "Read the alert test: Żyła; Still, 9", DUE, DUE - 1000);
    const calendar = new ICAL.Component(ICAL.parse(text) as unknown[]);
    expect(calendar.getFirstPropertyValue("version")).toBe("2.0");
    const component = calendar.getFirstSubcomponent("vevent") as ICAL.Component;
    const event = new ICAL.Event(component);
    expect(event.startDate.toJSDate().getTime()).toBe(DUE);
    expect(event.summary).toBe("Read the alert test: Żyła; Still, 9");
    expect(event.uid).toBe("test-1");
    const alarm = component.getFirstSubcomponent("valarm");
    expect(alarm?.getFirstPropertyValue("action")).toBe("DISPLAY");
    expect(String(alarm?.getFirstPropertyValue("trigger"))).toMatch(/^-?PT0S$/);
  });

  it("folds its lines at 75 octets and ends each with CR LF", () => {
    const text = reminder_file("test-1", "ż".repeat(120), DUE, DUE);
    const lines = text.split("\r\n");
    for (const line of lines) expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
    expect(text.replaceAll("\r\n", "")).not.toContain("\n");
  });
});

describe("a test in words", () => {
  const test = {
    id: "1",
    kind: "alert_test",
    by: "phone",
    created_at: "2026-11-26T10:15:00Z",
    applied_at: "2026-11-26T10:15:00Z",
    line: "Still",
  } as const;
  const at = (iso: string) => Date.parse(iso);

  it("waits until 48 h have passed, and not a minute less", () => {
    expect(words_of(test, at("2026-11-28T10:14:00Z"))).toMatch(/^read it from /);
    expect(words_of(test, at("2026-11-28T10:15:00Z"))).toBe("read it now");
  });

  it("waits again where the clock was set back", () => {
    expect(words_of(test, at("2026-11-20T10:15:00Z"))).toMatch(/^read it from /);
  });
});
