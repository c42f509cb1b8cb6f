// Waits until the page is at rest: nobody touches it, and nothing is about to need the whole phone.
const AT_REST_MS = 2_000;
const TOUCHED = ["keydown", "input", "pointerdown", "scroll"];

const reasons: (() => boolean)[] = [];

/** Puts work off for as long as `reason` returns true, as before a clock rings. */
export function hold_off_while(reason: () => boolean): void {
  reasons.push(reason);
}

/** Returns whether no reason to hold off is left now. */
export function may_begin(): boolean {
  return !reasons.some((reason) => reason());
}

/** Resolves once nobody has touched the page for two seconds and no reason to hold off is left. */
export function at_rest(): Promise<void> {
  return new Promise((resolve) => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const wait = () => {
      clearTimeout(timer);
      timer = setTimeout(() => {
        if (!may_begin()) return wait();
        for (const kind of TOUCHED) removeEventListener(kind, wait, true);
        resolve();
      }, AT_REST_MS);
    };
    for (const kind of TOUCHED) addEventListener(kind, wait, { capture: true, passive: true });
    wait();
  });
}
