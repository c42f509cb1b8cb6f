// What the day's screen says in every state of the page and of its engine.
import { expect, test } from "vitest";
import type { Device } from "../../engine/device";
import type { Shell } from "../../offline/bridge";
import { signal_words } from "./signal_words";

const KEPT: Shell = { state: "kept" };
const KEEPING: Shell = { state: "keeping" };
const RESTING: Device = { state: "resting" };
const loading = (bytes: number, of_bytes: number): Device => ({
  state: "loading",
  bytes,
  of_bytes,
  fetches: true,
  damaged: false,
});
const ready = (kept: boolean): Device => ({ state: "ready", engine_version: "1", kept });
const CUT = "The download of the engine was interrupted.";

const said = (page: Shell, engine: Device, tested = false) =>
  signal_words(page, engine, false, tested);

test("nothing is said of a page whose tested engine is kept, now or from before", () => {
  expect(said(KEPT, ready(true))).toBe("");
  expect(said(KEPT, RESTING, true)).toBe("");
  expect(said(KEPT, loading(0, 0), true)).toBe("");
  expect(said(KEPT, loading(1e6, 3.9e6), true)).toBe("");
});

test("until then the line says how much is here", () => {
  expect(said(KEEPING, RESTING)).toMatch(/^Not ready .*: saving the page\.$/);
  expect(said(KEPT, RESTING)).toMatch(/^Not ready .* while nobody touches the page\.$/);
  expect(said(KEPT, loading(0, 0))).toMatch(/^Not ready .*: asking for the engine\.$/);
  expect(said(KEPT, loading(1.2e6, 3.9e6))).toMatch(/^Not ready .*: 1\.2 of 3\.9 MB is here\.$/);
  expect(said(KEPT, loading(3.9e6, 3.9e6))).toMatch(/^Not ready .*: all is here and being tested/);
  expect(said(KEEPING, ready(true))).toMatch(/^Not ready .*: saving the page\.$/);
});

test("a download that broke off says how far it came, and why", () => {
  const fetched = { bytes: 2.1e6, of_bytes: 3.9e6 };
  const words = said(KEPT, { state: "failed", why: CUT, by_itself: true, fetched });
  expect(words).toContain("cannot calculate. 2.1 of 3.9 MB is here.");
  expect(words).toContain(`${CUT} The next try comes by itself.`);
  // An engine that was tested before and does not start now is not there either.
  expect(said(KEPT, { state: "failed", why: CUT, by_itself: false }, true)).toContain(
    "cannot calculate",
  );
});

test("a device that can keep nothing says so, however far the engine is", () => {
  const why = "This browser keeps no pages for offline use.";
  for (const engine of [RESTING, loading(1, 2), ready(true), ready(false)]) {
    expect(said({ state: "not kept", why }, engine)).toBe(why);
    expect(signal_words(KEPT, engine, true, true)).toMatch(/keeps nothing/);
  }
  expect(said(KEPT, ready(false))).toMatch(/^No room to keep the engine/);
  expect(said(KEPT, ready(false), true)).toMatch(/^No room to keep the engine/);
});
