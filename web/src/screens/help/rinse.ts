// How long the rinse has lasted. Two moments of the wall clock, kept on this phone, so that a
// reload, a lock or a battery changes nothing. They are read again each second and counted nowhere.
import { computed, effect, signal } from "@preact/signals";
import { kept } from "../../device/kept";
import { RINSE_MIN } from "./first_aid";

export type Rinsed = "eye" | "skin";

/** When a rinse began and was stopped, in ms since 1970; 0 if it was not. */
export interface Rinse {
  started_at_ms: number;
  stopped_at_ms: number;
}

type RinseState =
  | { state: "idle" }
  | { state: "running"; left_ms: number; until_ms: number }
  | { state: "stopped"; rinsed_ms: number }
  | { state: "over"; until_ms: number };

const RINSE_MS = RINSE_MIN * 60_000;
/**
 * After this time an ended rinse belongs to another day, and the next one starts from the button.
 */
const FORGOTTEN_MS = 60 * 60_000;
const NONE: Rinse = { started_at_ms: 0, stopped_at_ms: 0 };

/** Returns a rinse's state at `now_ms`. A clock set back makes it longer, never shorter. */
export function rinse_state({ started_at_ms, stopped_at_ms }: Rinse, now_ms: number): RinseState {
  if (started_at_ms === 0) return { state: "idle" };
  const until_ms = started_at_ms + RINSE_MS;
  const ended_ms = stopped_at_ms || until_ms;
  if (now_ms - ended_ms > FORGOTTEN_MS) return { state: "idle" };
  if (stopped_at_ms) return { state: "stopped", rinsed_ms: stopped_at_ms - started_at_ms };
  if (now_ms >= until_ms) return { state: "over", until_ms };
  return { state: "running", left_ms: until_ms - now_ms, until_ms };
}

const rinses = kept<Record<Rinsed, Rinse>>("rinses", { eye: NONE, skin: NONE });
const now_ms = signal(Date.now());

/** The state of each rinse, moving by the second while one runs. */
export const rinsing = computed<Record<Rinsed, RinseState>>(() => ({
  eye: rinse_state(rinses.value.eye, now_ms.value),
  skin: rinse_state(rinses.value.skin, now_ms.value),
}));

/** The rinse that ends last among the running ones; null without any. */
export const longest_rinse = computed(() => {
  const running = Object.values(rinsing.value).filter((rinse) => rinse.state === "running");
  return running.sort((one, other) => other.until_ms - one.until_ms)[0] ?? null;
});

const runs = computed(() => longest_rinse.value !== null);
effect(() => {
  if (!runs.value) return;
  const tick = () => {
    now_ms.value = Date.now();
    if (!runs.peek()) globalThis.navigator?.vibrate?.([600, 200, 600, 200, 600]);
  };
  const clock = setInterval(tick, 1000);
  globalThis.document?.addEventListener("visibilitychange", tick);
  return () => {
    clearInterval(clock);
    globalThis.document?.removeEventListener("visibilitychange", tick);
  };
});

/** Updates the shown time to the present second. */
export function look_at_clock(): void {
  now_ms.value = Date.now();
}

export function start_rinse(what: Rinsed): void {
  put(what, { started_at_ms: Date.now(), stopped_at_ms: 0 });
}

export function stop_rinse(what: Rinsed): void {
  put(what, { ...rinses.peek()[what], stopped_at_ms: Date.now() });
}

/** Goes on as if nobody had stopped it: a wet glove may have. */
export function go_on_rinsing(what: Rinsed): void {
  put(what, { ...rinses.peek()[what], stopped_at_ms: 0 });
}

function put(what: Rinsed, rinse: Rinse): void {
  rinses.value = { ...rinses.peek(), [what]: rinse };
  look_at_clock();
}

/** Returns "19:32" of a time left, the last second shown in full. */
export function left_words(left_ms: number): string {
  const seconds = Math.ceil(left_ms / 1000);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}
