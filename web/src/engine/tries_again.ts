// When a download of the engine that broke off is tried again, without a tap.

const MINUTE_MS = 60_000;
const WAITS_MS = [1, 2, 5, 15].map((minutes) => minutes * MINUTE_MS);

/**
 * Returns the plan of the next tries. `again` is called after 1, 2, 5 and then each 15 minutes, and
 * as soon as the network is back or the page is shown.
 */
export function tries_again(again: () => void) {
  let failures = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const try_now = () => {
    forget();
    again();
  };
  const now = () => {
    if (timer !== undefined && !document.hidden) try_now();
  };
  const forget = () => {
    clearTimeout(timer);
    timer = undefined;
  };
  if (typeof document !== "undefined") {
    addEventListener("online", now);
    document.addEventListener("visibilitychange", now);
  }
  return {
    /** Call it after each try that failed. */
    plan(): void {
      forget();
      timer = setTimeout(try_now, WAITS_MS[Math.min(failures, WAITS_MS.length - 1)]);
      failures += 1;
    },
    /** Call it as a try begins. */
    forget,
    succeeded(): void {
      failures = 0;
    },
  };
}
