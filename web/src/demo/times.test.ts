// The demo day's moments at every hour of a year, in zones that change their hour by whole and half
// hours. The wall clock they are held against is the time zone database's, by Intl.
import { afterAll, expect, test } from "vitest";
import { MINUTE_MS } from "../device/when";
import { demo_day } from "./fill";
import { instant_of, with_moments } from "./times";

const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;
const ZONES = ["Europe/Paris", "America/New_York", "Australia/Lord_Howe", "UTC"];
const FIRST_MS = Date.UTC(2026, 10, 30, 0, 17, 41);
const HOURS = Array.from({ length: 366 * 24 }, (_, at) => FIRST_MS + at * HOUR_MS);

const own_zone = process.env.TZ;
afterAll(() => {
  process.env.TZ = own_zone;
});

const wall = (zone: string) =>
  new Intl.DateTimeFormat("sv-SE", { timeZone: zone, dateStyle: "short", timeStyle: "short" });

test.each(ZONES)("an offset of days is that wall clock, that many days away, in %s", (zone) => {
  process.env.TZ = zone;
  const shown = wall(zone);
  for (const opened_ms of HOURS) {
    for (const days of [-42, -1, 1]) {
      const sign = days < 0 ? "" : "+";
      const [today = ""] = shown.format(opened_ms).split(" ");
      const day = new Date(Date.parse(`${today}T00:00:00Z`) + days * DAY_MS).toISOString();
      const found = shown.format(instant_of(`@day${sign}${days} 10:30`, opened_ms));
      if (found !== `${day.slice(0, 10)} 10:30`) expect(found).toBe(`${day} 10:30`);
    }
  }
});

test("an offset from now is elapsed time, whatever the clocks did between", () => {
  for (const zone of ZONES) {
    process.env.TZ = zone;
    for (const opened_ms of HOURS) {
      const whole_ms = opened_ms - (opened_ms % 1000);
      expect(instant_of("@now-2840", opened_ms)).toBe(whole_ms - 2840 * MINUTE_MS);
    }
  }
});

test("a visit is on the quarter before its offset, and on the day that is shown", () => {
  for (const zone of ZONES) {
    process.env.TZ = zone;
    const shown = wall(zone);
    for (const opened_ms of HOURS) {
      const at_ms = instant_of("@quarter+75", opened_ms);
      const early_ms = opened_ms + 75 * MINUTE_MS - at_ms;
      const [at, opened] = [shown.format(at_ms), shown.format(opened_ms)];
      const on_it = Number(at.slice(-2)) % 15 === 0 && at.slice(0, 10) === opened.slice(0, 10);
      const last = at.slice(-5) === "23:45";
      if (!on_it || early_ms < 0 || (early_ms >= 15 * MINUTE_MS && !last)) expect(at).toBe("");
    }
  }
});

test("what is no offset is refused, and other texts stay", () => {
  expect(() => instant_of("@noon", FIRST_MS)).toThrow(RangeError);
  expect(with_moments({ words: ["level 10, pearl"], grams: 5 }, FIRST_MS)).toEqual({
    words: ["level 10, pearl"],
    grams: 5,
  });
});

interface Zone {
  work: string;
  first_section_at?: string;
  last_section_at?: string;
  rinsed_at?: string;
  window: { earliest: number; latest: number };
  lightener?: { max_min: number };
  looked?: { minute: number };
}

interface Test {
  applied_at: string;
  read_at?: string;
  result: string;
}

test("at every hour of a year the clocks run, the tests are as told, and nothing is to come", async () => {
  const { acts } = await demo_day();
  for (const zone of ZONES) {
    process.env.TZ = zone;
    for (const opened_ms of HOURS.filter((_, at) => at % 7 === 0)) {
      const made = acts.map((act) => ({ ...act, at_ms: instant_of(act.at, opened_ms) }));
      expect(Math.max(...made.map(({ at_ms }) => at_ms))).toBeLessThanOrEqual(opened_ms);
      const of = <Fields>(kind: string) =>
        acts.flatMap(({ records }) =>
          records
            .filter((record) => record.kind === kind)
            .map(({ fields }) => with_moments(fields, opened_ms) as Fields),
        );
      const running = of<Zone>("zone").filter((one) => one.first_section_at && !one.rinsed_at);
      expect(running).toHaveLength(2);
      for (const { work, first_section_at, last_section_at, window, looked } of running) {
        const from = work === "lightener" ? first_section_at : last_section_at;
        const minute = (opened_ms - Date.parse(from ?? "")) / MINUTE_MS;
        // Neither rings as the day opens: one may be rinsed in two minutes, one is looked at in six.
        if (work === "toner") expect(minute).toBeLessThan(window.earliest);
        else expect(minute - (looked?.minute ?? 0)).toBeLessThan(10);
        expect(minute).toBeGreaterThan(0);
      }
      const tests = of<Test>("alert_test");
      const read_early = tests.filter(
        ({ applied_at, read_at = "", result }) =>
          result !== "not_read" && Date.parse(read_at) - Date.parse(applied_at) < 48 * HOUR_MS,
      );
      // Two days by the wall clock are 47 hours where the hour is put ahead between them.
      expect(read_early).toEqual([]);
      const waiting = tests.filter(({ result }) => result === "not_read");
      expect(waiting).toHaveLength(1);
      const ready_ms = Date.parse(waiting[0]?.applied_at ?? "") + 48 * HOUR_MS;
      expect(Math.round((ready_ms - opened_ms) / MINUTE_MS)).toBe(40);
    }
  }
});
