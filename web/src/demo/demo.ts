// Opens and removes the demo day: the page loads again in the other world (outbox/world.ts).
import { signal } from "@preact/signals";
import { deleteDB } from "idb";
import { with_database } from "../outbox/database";
import { choose_world, demo_since_ms, PREFIXES } from "../outbox/world";
import { kept_state } from "../records/write";
import { clock_runs } from "../salon/service/running";
import { load_again } from "./leave";

const DATABASE = "basinside demo";
const COPY = "basinside second copy demo";
const LOCK = "basinside.demo";
/** What of the salon's own settings the demo day starts from; none of it comes back. */
const TAKEN_OVER = ["settings", "country_said", "screen_is_set", "shelf"];
/** The invented salon is in France. Somebody who said no country yet tries its rules. */
const NO_COUNTRY = { profile: "eu" };
/** A day that was opened before is laid out again: its clocks would all have run out. */
const FRESH_MS = 6 * 3_600_000;

/** Why the demo day could not be opened or laid out; empty where it could. */
export const demo_fault = signal("");

/** Opens the demo day: the page loads again and shows it. `demo_fault` says why it did not. */
export async function open_demo(): Promise<void> {
  demo_fault.value = why_not();
  if (demo_fault.peek()) return;
  try {
    await clear_demo();
    take_over_settings();
    choose_world(true, Date.now());
  } catch {
    demo_fault.value = "This browser keeps nothing, so the demo day cannot open here.";
    return;
  }
  load_again();
}

/**
 * Lays the day out in this window, once, before the records are read. Throws nothing: `demo_fault`
 * says why it is not there.
 */
export async function lay_out_demo(): Promise<void> {
  void navigator.locks?.request(LOCK, { mode: "shared" }, () => new Promise(() => undefined));
  try {
    const opened_ms = Date.now();
    if (opened_ms - (demo_since_ms ?? 0) > FRESH_MS) {
      await clear_demo();
      take_over_settings();
      choose_world(true, opened_ms);
    }
    if (await with_database((opened) => opened.get("meta", "device"))) return;
    const { demo_day, fill } = await import("./fill");
    await fill(await demo_day(), opened_ms);
  } catch {
    demo_fault.value = "The demo day did not load. Remove it, check the signal, and open it again.";
  }
}

/** Removes what a window that was closed has left of a demo day, unless another has it open. */
export async function sweep_demo(): Promise<void> {
  if (!navigator.locks) return clear_demo();
  await navigator.locks.request(LOCK, { ifAvailable: true }, (lock) =>
    lock ? clear_demo() : null,
  );
}

async function clear_demo(): Promise<void> {
  await globalThis.caches?.delete(COPY);
  await deleteDB(DATABASE);
  for (const storage of [localStorage, sessionStorage]) {
    for (const name of names_in(storage)) storage.removeItem(name);
  }
}

function names_in(storage: Storage): string[] {
  return Object.keys(storage).filter((name) => name.startsWith(PREFIXES.demo));
}

/** What must not be left for it: an alarm on a head, or words that are only on the screen. */
function why_not(): string {
  if (clock_runs.peek()) return "A clock is running. Open the demo day after the rinse.";
  return kept_state.peek() === "kept" ? "" : "Something is not saved yet. Save it first.";
}

function take_over_settings(): void {
  for (const name of TAKEN_OVER) {
    const text = localStorage.getItem(PREFIXES.own + name);
    if (text !== null) localStorage.setItem(PREFIXES.demo + name, text);
  }
  if (localStorage.getItem(`${PREFIXES.own}country_said`) === "true") return;
  const settings = JSON.parse(localStorage.getItem(`${PREFIXES.demo}settings`) ?? "{}") as object;
  localStorage.setItem(`${PREFIXES.demo}settings`, JSON.stringify({ ...settings, ...NO_COUNTRY }));
  localStorage.setItem(`${PREFIXES.demo}country_said`, "true");
}
