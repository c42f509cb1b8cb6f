// Entries that are not on this phone yet: says so in words, and offers them as text for a file. The
// screen keeps its text too. An entry leaves here only when it is kept, or by a person's word.
import { effect, type ReadonlySignal, signal } from "@preact/signals";
import { is_full, waits_for_another_window } from "../outbox/database";

export type KeptState = "kept" | "keeping" | { words: string; text: string };

const state = signal<KeptState>("kept");
/** Whether an entry is on this phone; if not, why, and its text for a file. */
export const kept_state: ReadonlySignal<KeptState> = state;

/** Thrown if something could not be kept on this phone; its message says what to do. */
export class NotKept extends Error {}

const FULL =
  "This phone is full, so this was not kept. Save it as a file, make room and try again.";
const LOST =
  "This phone’s store did not answer, so this was not kept. Try again, or save it as a file.";
const NEWER =
  "Basinside was updated in another window, so this was not kept. Save it as a file, then close this window and open it again.";
const IN_THE_WAY =
  "Another window of Basinside blocks this. Close that window, or save this as a file.";
const EARLIER = "An earlier entry was not kept. Save it as a file, or write it again.";

// A write takes milliseconds; one that waits this long waits for a window that is stuck.
const PATIENCE_MS = 8000;

/** Each act that could not be kept, as text; it leaves once it is kept after all. */
const unkept = new Set<string>();

/** Notes that an act is being kept; returns the function that reports how it ended. */
export function keeping(act: readonly unknown[]): {
  kept(): void;
  failed(why: unknown): unknown;
} {
  const before = state.peek();
  const text = as_text(act);
  state.value = "keeping";
  const offer = (words: string) => {
    unkept.add(text);
    state.value = { words, text: [...unkept].join("\n") };
  };
  const timer = setTimeout(offer, PATIENCE_MS, IN_THE_WAY);
  const stop_watching = effect(() => {
    if (waits_for_another_window.value) offer(IN_THE_WAY);
  });
  const end = () => {
    clearTimeout(timer);
    stop_watching();
  };
  return {
    kept() {
      end();
      unkept.delete(text);
      if (unkept.size === 0) state.value = "kept";
      else state.value = { words: EARLIER, text: [...unkept].join("\n") };
    },
    /** Returns the error to throw: our own sentence, or that it was not kept and what to do. */
    failed(why) {
      end();
      if (why instanceof DOMException) {
        const words = is_full(why) ? FULL : why.name === "VersionError" ? NEWER : LOST;
        offer(words);
        return new NotKept(words, { cause: why });
      }
      // Nothing was tried, so nothing waits to be saved.
      unkept.delete(text);
      state.value = before;
      return why;
    },
  };
}

/** Notes that the unkept text was saved elsewhere, or given up. */
export function let_unkept_go(): void {
  unkept.clear();
  state.value = "kept";
}

/** The act to write, without the ids that a second try would make again. */
function as_text(act: readonly unknown[]): string {
  return JSON.stringify(act, (key, value) => (key === "id" ? undefined : value));
}
