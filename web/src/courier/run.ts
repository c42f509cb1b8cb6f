// Decides when to exchange with the salon's server: after a write, when the network is back, when
// the page is shown, and every minute while it is. A lost desk is looked for at each tap too. The
// live stream brings others' writes meanwhile.
import { effect } from "@preact/signals";
import { at_now } from "../device/when";
import { with_database } from "../outbox/database";
import { sweep_if_due } from "../outbox/sweep";
import { written } from "../records/read";
import { backoff_ms, silent_ms, WHILE_SHOWN_MS } from "./backoff";
import { find_server, Trouble } from "./call";
import { exchange } from "./exchange";
import { lead } from "./lead";
import { follow } from "./live";
import { send_photos } from "./photos";
import { read_position } from "./position";
import { sending } from "./state";
import { read_tray } from "./tray";

// Long enough for one tap's writes to go out in one call. Short enough that a colleague on the same
// head sees them within the second.
const AFTER_WRITE_MS = 200;
/** Without the stream, two people on one head still see each other. */
const WITHOUT_STREAM_MS = 3000;

let begun = false;

/** Starts the exchange of a paired phone; a second call starts it again at once. */
export function start(): void {
  if (begun) {
    now_please();
    return;
  }
  begun = true;
  effect(() => {
    written.value;
    void recount();
    setTimeout(() => now_please(), AFTER_WRITE_MS);
  });
  addEventListener("online", () => now_please());
  // Somebody works on the page: a desk that did not answer may be back.
  addEventListener("click", () => {
    if (sending.peek().trouble?.code === "no_answer") now_please();
  });
  lead(exchange_while_leading);
}

let wake: () => void = () => undefined;

/** Exchanges now, without waiting for the next time. */
export function now_please(): void {
  wake();
}

async function exchange_while_leading(stop: AbortSignal): Promise<void> {
  let failures = 0;
  let lost_at_ms: number | undefined;
  let streaming: Promise<void> | undefined;
  let stream_refused = false;
  void sweep_if_due().catch(() => undefined);
  while (!stop.aborted) {
    const woken = new Promise<void>((resolve) => {
      wake = resolve;
    });
    const tried_at_ms = performance.now();
    const { trouble, handed_back } = await try_to_exchange(lost_at_ms);
    failures = trouble ? failures + 1 : 0;
    // A clock that a person moves does not count.
    lost_at_ms = trouble?.code === "no_answer" ? (lost_at_ms ?? performance.now()) : undefined;
    const before = sending.peek();
    const lost_since = lost_at_ms === undefined ? "" : before.lost_since || at_now();
    sending.value = {
      ...before,
      trouble,
      lost_since,
      handed_back: before.handed_back + handed_back,
    };
    await recount();
    // Beside the records: the next exchange does not wait for a photo.
    if (!trouble) void send_photos().catch(() => undefined);
    if (!trouble && !streaming && !stream_refused) {
      streaming = follow(stop, fetch_what_came)
        .catch((why: unknown) => {
          stream_refused = why instanceof Trouble && why.status === 404;
        })
        .finally(() => {
          streaming = undefined;
          wake();
        });
    }
    const calm_ms = streaming ? WHILE_SHOWN_MS : WITHOUT_STREAM_MS;
    const lost_ms = lost_at_ms && performance.now() - lost_at_ms;
    const shown = document.visibilityState === "visible";
    const away_ms = trouble?.needs.retry_after_ms ?? backoff_ms({ failures, shown, lost_ms });
    // From try to try: what a silent desk cost is part of the wait.
    const cost_ms = lost_ms ? performance.now() - tried_at_ms : 0;
    const wait_ms = trouble ? Math.max(0, away_ms - cost_ms) : calm_ms;
    await first_of(woken, wait_ms, stop);
  }
  await streaming;
}

/** A lost desk is first asked whether it is there, which takes it one short answer. */
async function try_to_exchange(
  lost_at_ms: number | undefined,
): Promise<{ trouble?: Trouble | undefined; handed_back: number }> {
  try {
    if (lost_at_ms !== undefined) await find_server(silent_ms(performance.now() - lost_at_ms));
    return await one_after_another();
  } catch (why) {
    if (why instanceof Trouble) return { trouble: why, handed_back: 0 };
    return { trouble: new Trouble(0, "store", String(why)), handed_back: 0 };
  }
}

async function fetch_what_came(): Promise<void> {
  await one_after_another();
  await recount();
}

let turn: Promise<unknown> = Promise.resolve();

/** Two at once would only do the same work twice. */
function one_after_another(): ReturnType<typeof exchange> {
  const mine = turn.then(exchange, exchange);
  turn = mine.catch(() => undefined);
  return mine;
}

function first_of(woken: Promise<void>, wait_ms: number, stop: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const ring = setTimeout(resolve, wait_ms);
    const end = () => {
      clearTimeout(ring);
      resolve();
    };
    stop.addEventListener("abort", end, { once: true });
    void woken.then(end);
  });
}

/** Counts again what waits and what needs a look. */
export async function recount(): Promise<void> {
  try {
    const now = await with_database(async (opened) => {
      const reading = opened.transaction(["meta", "outbox"]);
      const waiting = await reading.objectStore("outbox").count();
      const { sent_at, to_come, clock_offset_ms } = await read_position(
        reading.objectStore("meta"),
      );
      return { waiting, sent_at, to_come, clock_offset_ms };
    });
    sending.value = { ...sending.peek(), ...now };
    await read_tray();
  } catch {
    // The store says so at the next write, when it matters.
  }
}
