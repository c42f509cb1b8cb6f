// How long the next exchange waits after one that failed.

/** While the page is shown, an exchange is due at least this often. */
export const WHILE_SHOWN_MS = 60_000;
const LEAST_BACKOFF_MS = 2000;
const MOST_BACKOFF_MS = 5 * 60_000;

/**
 * Returns the ms to wait after so many failures in a row. Full jitter keeps twenty phones from
 * coming back in the same second. Each write tries too, and counts. Without this cap, a person who
 * looks at the page after a day without the desk would wait five minutes for a desk that is back.
 */
export function backoff_ms(failures: number, shown: boolean, chance = Math.random()): number {
  const longest = shown ? WHILE_SHOWN_MS : MOST_BACKOFF_MS;
  const most = Math.min(longest, LEAST_BACKOFF_MS * 2 ** (failures - 1));
  return Math.max(LEAST_BACKOFF_MS / 2, chance * most);
}
