// How long the next exchange waits after one that failed.

/** While the page is shown, an exchange is due at least this often. */
export const WHILE_SHOWN_MS = 60_000;
const LEAST_BACKOFF_MS = 2000;
/**
 * For so long after the contact is lost, a page that is shown finds the desk within `SOON_MS` of its
 * return. Two devices are then equal within 5 s: both must find it, and each takes in the other's.
 */
const SOON_FOR_MS = 2 * 60_000;
const SOON_MS = 3000;
/** Meanwhile a desk that takes the call and says nothing is given up after this long. */
const SILENT_MS = 4000;
const MOST_BACKOFF_MS = 5 * 60_000;

/** Returns how long a lost desk may take to say that it is there; undefined for as long as any. */
export function silent_ms(lost_ms: number): number | undefined {
  return lost_ms <= SOON_FOR_MS ? SILENT_MS : undefined;
}

export interface Away {
  /** How many exchanges failed in a row. */
  failures: number;
  /** Whether somebody looks at the page. */
  shown: boolean;
  /** How long there has been no answer; undefined where the desk answers, and refuses. */
  lost_ms?: number | undefined;
}

/**
 * Returns the ms to wait after so many failures in a row. Full jitter keeps twenty phones from
 * coming back in the same second. Each write tries too, and counts. Without the bounds of a page
 * that is shown, a person who looks at it would wait five minutes for a desk that is back.
 */
export function backoff_ms({ failures, shown, lost_ms }: Away, chance = Math.random()): number {
  const soon = lost_ms !== undefined && lost_ms <= SOON_FOR_MS;
  const longest = shown ? (soon ? SOON_MS : WHILE_SHOWN_MS) : MOST_BACKOFF_MS;
  const most = Math.min(longest, LEAST_BACKOFF_MS * 2 ** (failures - 1));
  return Math.max(LEAST_BACKOFF_MS / 2, chance * most);
}
