// The one way to the worker. It starts the worker as the page opens where the engine is kept here,
// else when the page is at rest. It asks it one question at a time, and says in words why it is not
// there. It ends a worker that does not answer. It also ends one the phone lacks the memory for; the
// next question starts it again. A download that broke off goes on by itself.
import { effect, signal } from "@preact/signals";
import { OTHER_VERSION } from "../offline/other_version";
import type { Here } from "./keep";
import { is_any_kept, is_tested_here } from "./kept_here";
import type { Pack } from "./pack";
import { at_rest, may_begin } from "./patience";
import { tries_again } from "./tries_again";
import type { FromWorker, ToWorker } from "./worker";

export type Device =
  | { state: "resting"; why?: string }
  | ({ state: "loading"; of_bytes: number } & Here)
  | { state: "ready"; engine_version: string; kept: boolean }
  | {
      state: "failed";
      why: string;
      /** The network failed, and the next try comes by itself. */
      by_itself: boolean;
      /** How much had come, where the download was not whole. */
      fetched?: { bytes: number; of_bytes: number };
    };

/** The device could not answer; the message says why. */
export class DeviceFailed extends Error {}

/** The state of the engine on this device, from resting to ready. */
export const device = signal<Device>({ state: "resting" });

// Counted from the last bytes that came, so that a slow download does not count as a stop.
const LONGEST_STANDSTILL_MS = 60_000;
// A phone with little memory takes it from hidden pages, by closing them.
const little_memory =
  ((globalThis.navigator as { deviceMemory?: number } | undefined)?.deviceMemory ?? 4) <= 2;
const LONGEST_OUT_OF_SIGHT_MS = (little_memory ? 1 : 10) * 60_000;
const MOST_ENDS_FOR_MEMORY = 2;

interface Asked {
  id: number;
  settle: (given: { status: number; body: string } | DeviceFailed) => void;
}

let worker: Worker | undefined;
/** The worker's present question, also when nobody waits for it any more. */
const asked = signal<Asked | undefined>(undefined);
let last_id = 0;
let standstill: ReturnType<typeof setTimeout> | undefined;

let may_start = false;
let waits_for_rest = false;
let kept_here = false;
let ends_for_memory = 0;

const next_try = tries_again(() => void wake());

/** Lets the engine start when the page is at rest, and end while nobody sees the page. */
export function start_at_rest(): void {
  may_start = true;
  let timer: ReturnType<typeof setTimeout> | undefined;
  document.addEventListener("visibilitychange", () => {
    clearTimeout(timer);
    if (document.hidden) timer = setTimeout(end_out_of_sight, LONGEST_OUT_OF_SIGHT_MS);
  });
  void wake();
}

/** Starts an engine that is kept here as the page opens: it needs no network and no rest. */
export async function start_if_kept(): Promise<void> {
  if (!(await is_any_kept())) return;
  const pack = await fetch_pack();
  if (typeof pack === "string" || !(await is_tested_here(pack))) return;
  kept_here = true;
  // Where a clock is about to ring, it waits as any other does.
  if (may_begin() && is_waiting()) await start(pack);
}

/** Whether it is neither there nor coming, and may be started without a tap. */
function is_waiting(): boolean {
  const now = device.peek();
  return now.state === "resting" || (now.state === "failed" && now.by_itself);
}

/** Starts a waiting engine once the page is at rest. */
export async function wake(): Promise<void> {
  if (!may_start || waits_for_rest || !is_waiting()) return;
  waits_for_rest = true;
  await at_rest();
  waits_for_rest = false;
  if (is_waiting()) await start();
}

/** Starts a waiting engine at once, for somebody who waits. Returns whether it is coming. */
export function hurry(): boolean {
  if (may_start && is_waiting()) void start();
  return is_coming();
}

/** Starts a waiting engine for a question: at once where it is kept here, else at rest. */
export function prepare(): void {
  if (kept_here) hurry();
  else void wake();
}

/** Returns whether the engine answers soon: it is there, or on its way. */
export function is_coming(): boolean {
  const { state } = device.peek();
  return state === "loading" || state === "ready";
}

function end_out_of_sight(): void {
  if (device.peek().state === "ready" && !asked.peek()) {
    end("It stopped while nobody saw the page, to free memory.");
  }
}

/** Starts the engine, unless it is there or coming; after a failure it tries again. */
export async function start(known?: Pack): Promise<void> {
  const { state } = device.peek();
  if (state === "loading" || state === "ready") return;
  next_try.forget();
  device.value = { state: "loading", bytes: 0, of_bytes: 0, fetches: false, damaged: false };
  const pack = known ?? (await fetch_pack());
  if (typeof pack === "string") failed(pack, true);
  else begin(pack);
}

/** Returns the server's description of its pack, or why there is none, in words. */
async function fetch_pack(): Promise<Pack | string> {
  try {
    const response = await fetch("/engine.json", {
      signal: AbortSignal.timeout(LONGEST_STANDSTILL_MS),
    });
    if (response.status === OTHER_VERSION)
      return "The server has a newer version: update the page.";
    if (!response.ok) return "No signal. Your work is safe.";
    return await response.json();
  } catch {
    return "The engine could not be downloaded. Check the signal.";
  }
}

function begin(pack: Pack): void {
  const mine = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
  worker = mine;
  watch_for_standstill();
  mine.addEventListener("error", (event) => {
    event.preventDefault();
    if (mine === worker) failed("This browser could not start the engine.");
  });
  mine.addEventListener("message", ({ data: said }: MessageEvent<FromWorker>) => {
    if (mine === worker) hear(said, pack);
  });
  tell({ pack });
}

function hear(said: FromWorker, pack: Pack): void {
  if ("id" in said) {
    const answered = asked.peek();
    asked.value = undefined;
    answered?.settle(said);
    return;
  }
  watch_for_standstill();
  if (said.state === "loading") {
    device.value = said;
  } else if (said.state === "ready") {
    clearTimeout(standstill);
    next_try.succeeded();
    kept_here = said.kept;
    device.value = { state: "ready", engine_version: pack.engine_version, kept: said.kept };
  } else if (said.state === "failed") {
    failed(said.why, said.by_itself);
  } else if (said.state === "short of memory") {
    ends_for_memory += 1;
    const why = "This device is short of memory, so its engine stopped.";
    if (ends_for_memory < MOST_ENDS_FOR_MEMORY) end(why);
    else failed(`${why} Close other pages and apps, then try again.`);
  }
}

function watch_for_standstill(): void {
  clearTimeout(standstill);
  standstill = setTimeout(
    () =>
      failed(
        "The engine did not start within a minute on this device.",
        is_fetching(device.peek()),
      ),
    LONGEST_STANDSTILL_MS,
  );
}

/** Returns whether something of the engine is still to come over the network. */
export function is_fetching(now: Device): now is Extract<Device, { state: "loading" }> {
  return now.state === "loading" && now.fetches && now.bytes < now.of_bytes;
}

function tell(message: ToWorker): void {
  worker?.postMessage(message);
}

function failed(why: string, by_itself = false): void {
  const now = device.peek();
  const cut = now.state === "loading" && now.bytes < now.of_bytes;
  const fetched = cut ? { bytes: now.bytes, of_bytes: now.of_bytes } : undefined;
  stop({ state: "failed", why, by_itself, ...(fetched && { fetched }) });
  if (by_itself) next_try.plan();
}

function end(why: string): void {
  stop({ state: "resting", why });
}

function stop(now: Device & { why: string }): void {
  clearTimeout(standstill);
  worker?.terminate();
  worker = undefined;
  device.value = now;
  const unanswered = asked.peek();
  asked.value = undefined;
  unanswered?.settle(new DeviceFailed(now.why));
}

/** Returns whether this device would work out a question at once. */
export function is_free(): boolean {
  return device.peek().state === "ready" && asked.peek() === undefined;
}

/** Resolves once the device is free. Throws `DeviceFailed`, or the reason `aborted` gives. */
export async function until_free(aborted: AbortSignal): Promise<void> {
  aborted.throwIfAborted();
  const given_up = new Promise<never>((_, reject) => {
    aborted.addEventListener("abort", () => reject(aborted.reason), { once: true });
  });
  let end_watching = () => {};
  const free = new Promise<void>((resolve, reject) => {
    end_watching = effect(() => {
      const now = device.value;
      // Read in any state, so that the effect follows it.
      void asked.value;
      if (now.state === "failed" || now.state === "resting") reject(new DeviceFailed(now.why));
      else if (is_free()) resolve();
    });
  });
  await Promise.race([free, given_up]).finally(end_watching);
}

/**
 * Returns the status and the body of the engine's answer. Call it when `is_free`.
 *
 * Throws `DeviceFailed`, or the reason `aborted` gives. The worker then still finishes, and the
 * device is not free until it has.
 */
export function ask_device(
  question: string,
  body: string,
  aborted: AbortSignal,
  longest_wait_ms: number,
): Promise<{ status: number; body: string }> {
  return new Promise((resolve, reject) => {
    const ring = setTimeout(
      () =>
        failed(
          `This device found no answer in ${Math.round(longest_wait_ms / 1000)} s, and its engine ` +
            "was ended.",
        ),
      longest_wait_ms,
    );
    last_id += 1;
    asked.value = {
      id: last_id,
      settle: (given) => {
        clearTimeout(ring);
        if (given instanceof DeviceFailed) reject(given);
        else resolve(given);
      },
    };
    aborted.addEventListener("abort", () => reject(aborted.reason), { once: true });
    tell({ id: last_id, question, body });
  });
}
