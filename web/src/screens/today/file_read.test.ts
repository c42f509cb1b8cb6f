// A day's file on the screen, and an erasure that comes while it is there.
import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { forget_typed_about } from "../../device/typed";
import type { ReadDays } from "../../salon/calendar/days";
import { erased, forget_file, reading, say, show_file, show_file_again } from "./file_read";

const NOBODY: ReadDays = { appointments: [], left_out: [], outside: 3 };
const FILE = new File([], "day.ics");

test("an erasure takes the file off the screen, with what was said of it, and says so", () => {
  show_file(FILE, NOBODY, () => true);
  say({ whose: { row: "Mara Testfeld" } });
  expect(reading.value?.outside).toBe(3);
  forget_typed_about(new Set(["a client"]));
  expect(reading.value).toBeNull();
  expect(erased.value).toBe(true);
  show_file_again();
  expect(reading.value).toBeNull();
  show_file(FILE, NOBODY, () => true);
  expect(erased.value).toBe(false);
});

test("a file that is put away was not erased", () => {
  show_file(FILE, NOBODY, () => true);
  forget_file();
  expect(reading.value).toBeNull();
  expect(erased.value).toBe(false);
});
