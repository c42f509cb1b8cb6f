// Holds updates during a running clock or unsaved text. An update of the page waits while any
// window is busy. A window tells the others by a lock. The browser frees the lock when the window
// is closed or has crashed, so no window can hold an update for ever.
import { computed, effect, type ReadonlySignal, signal } from "@preact/signals";

const LOCK = "basinside.busy";

const holds = signal<readonly { why: string }[]>([]);

/** Why this window must not be reloaded now, as in "a clock is running"; empty if it may be. */
export const busy: ReadonlySignal<readonly string[]> = computed(() =>
  holds.value.map(({ why }) => why),
);

/**
 * Keeps the page from being updated until what it returns is called.
 *
 * `why` ends the sentence "It waits: …". In a component, `useEffect(() => hold("…"), [])`; on a
 * signal, `effect(() => (running.value ? hold("a clock is running") : undefined))`.
 */
export function hold(why: string): () => void {
  const mine = { why };
  holds.value = [...holds.peek(), mine];
  return () => {
    holds.value = holds.peek().filter((other) => other !== mine);
  };
}

/** Holds this window while somebody is writing into a field and has not left it yet. */
export function watch_writing(): void {
  let release: (() => void) | undefined;
  const left = () => {
    release?.();
    release = undefined;
  };
  addEventListener("input", ({ target }) => {
    if (is_text(target)) release ??= hold("somebody is writing");
  });
  // A field that disappears while somebody writes in it says nothing: the next one does.
  for (const kind of ["change", "focusin", "focusout"]) addEventListener(kind, left);
}

const NOT_TEXT = ["radio", "checkbox", "range", "button", "submit", "color", "file"];

function is_text(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLTextAreaElement ||
    (target instanceof HTMLInputElement && !NOT_TEXT.includes(target.type))
  );
}

/** Tells the page's other windows for as long as this one is busy. Runs for good. */
export function tell_other_windows(): void {
  const any = computed(() => holds.value.length > 0);
  effect(() => {
    if (!any.value) return;
    let free = () => {};
    const until_free = new Promise<void>((resolve) => {
      free = resolve;
    });
    void navigator.locks?.request(LOCK, { mode: "shared" }, () => until_free);
    return () => free();
  });
}

/**
 * Runs `work` if no window of the page is busy, and keeps others from becoming so meanwhile.
 *
 * Returns whether it ran. If the browser has no locks, it asks only this window.
 */
export async function when_no_window_is_busy(work: () => Promise<void>): Promise<boolean> {
  if (holds.peek().length > 0) return false;
  if (!navigator.locks) {
    await work();
    return true;
  }
  return navigator.locks.request(LOCK, { mode: "exclusive", ifAvailable: true }, async (lock) => {
    if (lock) await work();
    return lock !== null;
  });
}
