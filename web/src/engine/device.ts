// The one way to the worker: starts it when the page is at rest, puts one question at a time to
// it, and says in words why it is not there. A worker that does not answer is ended, not waited
// for.
import { signal } from "@preact/signals";
import type { FromWorker, Pack, ToWorker } from "./worker";

export type Device =
  | { state: "resting" }
  | { state: "loading"; share: number }
  | { state: "ready"; engine_version: string }
  | { state: "failed"; why: string };

/** The device could not answer; the message says why. */
export class DeviceFailed extends Error {}

/** Where the engine on this device is between resting and ready. */
export const device = signal<Device>({ state: "resting" });

const AT_REST_MS = 2_000;
const TOUCHED = ["keydown", "input", "pointerdown", "scroll"];
// Counted from the last file that came, so that a slow download is not taken for a stop.
const LONGEST_STANDSTILL_MS = 60_000;

interface Asked {
  id: number;
  settle: (given: { status: number; body: string } | DeviceFailed) => void;
}

let worker: Worker | undefined;
/** What the worker is at, also when whoever asked no longer waits for it. */
let asked: Asked | undefined;
let last_id = 0;
let standstill: ReturnType<typeof setTimeout> | undefined;

/** Starts the engine once nobody has touched the page for two seconds. */
export function start_at_rest(): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const wait = () => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      for (const kind of TOUCHED) removeEventListener(kind, wait, true);
      void start();
    }, AT_REST_MS);
  };
  for (const kind of TOUCHED) addEventListener(kind, wait, { capture: true, passive: true });
  wait();
}

/** Starts the engine, unless it is there or coming; after a failure it is tried anew. */
export async function start(): Promise<void> {
  const { state } = device.peek();
  if (state === "loading" || state === "ready") return;
  device.value = { state: "loading", share: 0 };
  const pack = await fetch_pack();
  if (typeof pack === "string") failed(pack);
  else begin(pack);
}

/** Returns what the server says of its pack, or why there is none, in words. */
async function fetch_pack(): Promise<Pack | string> {
  try {
    const response = await fetch("/engine.json", {
      signal: AbortSignal.timeout(LONGEST_STANDSTILL_MS),
    });
    if (!response.ok) return "The server has no engine for this device.";
    return await response.json();
  } catch {
    return "The engine for this device could not be fetched: check the signal.";
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
    const answered = asked;
    asked = undefined;
    answered?.settle(said);
    return;
  }
  watch_for_standstill();
  if (said.state === "loading") {
    device.value = { state: "loading", share: said.bytes / said.of_bytes };
  } else if (said.state === "ready") {
    clearTimeout(standstill);
    device.value = { state: "ready", engine_version: pack.engine_version };
  } else if (said.state === "failed") {
    failed(said.why);
  }
}

function watch_for_standstill(): void {
  clearTimeout(standstill);
  standstill = setTimeout(
    () => failed("The engine did not start within a minute on this device."),
    LONGEST_STANDSTILL_MS,
  );
}

function tell(message: ToWorker): void {
  worker?.postMessage(message);
}

function failed(why: string): void {
  clearTimeout(standstill);
  worker?.terminate();
  worker = undefined;
  device.value = { state: "failed", why };
  const unanswered = asked;
  asked = undefined;
  unanswered?.settle(new DeviceFailed(why));
}

/** Returns whether a question would be worked out on this device at once. */
export function is_free(): boolean {
  return device.peek().state === "ready" && asked === undefined;
}

/** Returns once the device is free. Throws `DeviceFailed`, or the reason `aborted` gives. */
export async function until_free(aborted: AbortSignal): Promise<void> {
  for (;;) {
    aborted.throwIfAborted();
    const now = device.peek();
    if (now.state === "failed") throw new DeviceFailed(now.why);
    if (is_free()) return;
    await new Promise((later) => setTimeout(later, 50));
  }
}

/**
 * Returns the status and the body the engine answers a question with. Call it when `is_free`.
 *
 * Throws `DeviceFailed`, or the reason `aborted` gives: the worker then still finishes, and the
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
    asked = {
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
