// One window of a phone does the sending: the first that is shown. Two would only send what the
// server knows already. So nothing depends on having just one; it saves network.
import { keep, recall } from "../device/kept";

const LOCK = "basinside.courier";
const BEAT = "courier_beat";
const BEAT_MS = 5000;
/** A leader that is silent for this long is frozen, and a shown window takes over. */
const LONGEST_SILENCE_MS = 20_000;

/** Leads while this window is shown and no other leads; `work` ends when its signal aborts. */
export function lead(work: (stop: AbortSignal) => Promise<void>): void {
  let leading: AbortController | null = null;
  const yield_to_another = (): void => leading?.abort();
  let asking = false;
  let shown_meanwhile = false;

  const begin = async (): Promise<void> => {
    const mine = new AbortController();
    leading = mine;
    beat();
    const beating = setInterval(beat, BEAT_MS);
    try {
      await work(mine.signal);
    } finally {
      clearInterval(beating);
      if (leading === mine) leading = null;
    }
  };
  const ask = async (options: LockOptions): Promise<void> => {
    if (leading || asking || document.hidden) return;
    asking = true;
    try {
      // Without locks every window sends for itself.
      if (navigator.locks) await navigator.locks.request(LOCK, options, (lock) => lock && begin());
      else await begin();
    } catch {
      // Another window took over, since this one was silent.
      yield_to_another();
    } finally {
      asking = false;
    }
    // It was hidden and shown again before its last exchange had ended.
    if (shown_meanwhile) {
      shown_meanwhile = false;
      look();
    }
  };
  const look = (): void => {
    if (leading || document.hidden) return;
    const silent_ms = Date.now() - recall(BEAT, 0);
    void ask(silent_ms > LONGEST_SILENCE_MS ? { steal: true } : { ifAvailable: true });
  };
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) yield_to_another();
    else if (asking) shown_meanwhile = true;
    else look();
  });
  setInterval(look, BEAT_MS);
  look();
}

function beat(): void {
  keep(BEAT, Date.now());
}
