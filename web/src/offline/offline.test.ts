import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test, vi } from "vitest";
import { KEPT_AT_ONCE, refuse_warnings } from "../../scripts/precache";
import { busy, hold, when_no_window_is_busy } from "./busy";
import { reasons_of, steps_of, system_of } from "./install_words";
import { emptied } from "./marker";

const kept = { ...KEPT_AT_ONCE, globPatterns: ["*.js"] };

test("a file too large to be kept stops the build", async () => {
  const globDirectory = mkdtempSync(join(tmpdir(), "built-"));
  writeFileSync(join(globDirectory, "small.js"), "1");
  await refuse_warnings({ ...kept, globDirectory });
  writeFileSync(join(globDirectory, "large.js"), "1".repeat(400_001));
  await expect(refuse_warnings({ ...kept, globDirectory })).rejects.toThrow("large.js");
});

test("a pattern that finds no file stops the build", async () => {
  const globDirectory = mkdtempSync(join(tmpdir(), "built-"));
  await expect(refuse_warnings({ ...kept, globDirectory })).rejects.toThrow("*.js");
});

test("a window is busy until the last of its reasons is gone", async () => {
  const first = hold("a clock is running");
  const second = hold("a clock is running");
  first();
  first();
  expect(busy.value).toEqual(["a clock is running"]);
  expect(await when_no_window_is_busy(async () => expect.unreachable())).toBe(false);
  second();
  expect(busy.value).toEqual([]);
  vi.stubGlobal("navigator", {}); // a browser that knows no locks
  let ran = false;
  await when_no_window_is_busy(async () => {
    ran = true;
  });
  expect(ran).toBe(true);
});

test("one mark without the other tells what was emptied", () => {
  const since = "2026-11-03T10:00:00.000Z";
  const marks = (beside_settings?: string, in_database?: string) => ({
    beside_settings,
    in_database,
  });
  expect(emptied(marks(since, since))).toBeUndefined();
  expect(emptied(marks())).toBeUndefined();
  expect(emptied(marks(since))).toEqual({ what: "database", since });
  expect(emptied(marks(undefined, since))).toEqual({ what: "settings", since });
});

// The forms of MDN, "Browser detection using the user agent string"; a tablet that asks for desktop
// pages names itself as a desktop and has several touch points (from memory).
test.each([
  ["Mozilla/5.0 (iPhone; CPU iPhone OS 17_0 like Mac OS X) AppleWebKit/605.1.15", 5, "ios"],
  ["Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15", 5, "ios"],
  ["Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15", 0, "desktop"],
  ["Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 Mobile", 5, "android"],
  ["Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101", 0, "desktop"],
] as const)("%s with %i touch points is told how to install on %s", (agent, points, system) => {
  expect(system_of(agent, points)).toBe(system);
  expect(steps_of(system).length).toBeGreaterThan(1);
  expect(reasons_of(system).length).toBeGreaterThan(1);
});

test("on a phone whose app does not get the tab's entries, installing first is the first reason", () => {
  expect(reasons_of("ios")[0]).toMatch(/^Do it before/);
  expect(reasons_of("ios")[1]).toContain("seven days");
});
