import { expect, test } from "vitest";
import {
  clock_warning,
  cut_off_words,
  handed_back_words,
  type Sending,
  sending_words,
} from "./state";

const at = (parts: Partial<Sending>): Sending => ({
  waiting: 0,
  sent_at: "",
  to_come: 0,
  clock_offset_ms: 0,
  trouble: undefined,
  lost_since: "",
  handed_back: 0,
  ...parts,
});
const trouble = (status: number, code: string) => ({ status, code, message: "" });
const noon = new Date();
noon.setHours(14, 2, 0, 0);
const sent_at = noon.toISOString();
const time = noon.toLocaleTimeString([], { timeStyle: "short" });

test.each([
  [at({}), "All sent · nothing sent yet"],
  [at({ sent_at }), `All sent · last sent ${time}`],
  [at({ waiting: 12, sent_at }), `12 entries waiting · last sent ${time}`],
  [at({ waiting: 1 }), "1 entry waiting · nothing sent yet"],
  [
    at({ sent_at, trouble: trouble(0, "no_answer") }),
    `No contact with the desk · last sent ${time}`,
  ],
  [at({ waiting: 3, trouble: trouble(0, "no_answer") }), "3 entries waiting · nothing sent yet"],
  [at({ waiting: 12, trouble: trouble(401, "x") }), "Pair this phone again to send 12 entries."],
  [
    at({ waiting: 2, trouble: trouble(403, "device_revoked") }),
    "The salon removed this phone. Pair it again to send 2 entries.",
  ],
  [
    at({ waiting: 2, trouble: trouble(403, "reads_only") }),
    "This phone may only read. Pair it with another code to send 2 entries.",
  ],
  [
    at({ waiting: 2, trouble: trouble(409, "schema_ahead") }),
    "The desk needs its update. 2 entries waiting here.",
  ],
  [
    at({ waiting: 2, trouble: trouble(507, "disk_full") }),
    "The desk’s disk is full. 2 entries waiting here.",
  ],
  [at({ to_come: 4200 }), "Today is ready. 4200 older records to come."],
])("%j reads as %s", (now, words) => {
  expect(sending_words(now)).toBe(words);
});

test("a clock more than five minutes off is said, with how far and which way", () => {
  expect(clock_warning(at({ clock_offset_ms: 299_000 }))).toBeUndefined();
  expect(clock_warning(at({ clock_offset_ms: -130 * 60_000 }))).toMatch("2 h 10 min fast.");
  expect(clock_warning(at({ clock_offset_ms: 7 * 60_000 }))).toMatch("7 min slow.");
});

test("what came back to a desk that was put back is counted", () => {
  expect(handed_back_words(at({}))).toBeUndefined();
  expect(handed_back_words(at({ handed_back: 31 }))).toMatch("31 records came back");
});

test("a screen that is cut off says since when, and nothing else does", () => {
  expect(cut_off_words(at({}))).toBeUndefined();
  expect(cut_off_words(at({ lost_since: sent_at }))).toBe(`Not connected since ${time}.`);
});
