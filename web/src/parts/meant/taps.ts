// Keeps the second tap of a wet glove from the act that takes the place of the one just tapped.
const SETTLES_MS = 600; // a wet glove taps twice within a third of a second

let last_tap_ms = Number.NEGATIVE_INFINITY;

/** Whether an act that appears now takes no tap for a moment yet; it shows that. */
export function is_settling(): boolean {
  return Number(document.timeline.currentTime ?? 0) - last_tap_ms < SETTLES_MS;
}

/**
 * Returns whether a tap on a leading act was meant, by the times of the events themselves. A key and
 * a screen reader press without a pointer: they always mean it.
 */
export function is_meant({ detail, timeStamp }: Pick<MouseEvent, "detail" | "timeStamp">): boolean {
  if (detail === 0) return true;
  if (timeStamp - last_tap_ms < SETTLES_MS) return false;
  last_tap_ms = timeStamp;
  return true;
}

/** Notes a tap that brings other acts under the same finger: the next one there is not meant yet. */
export function note_tap({ detail, timeStamp }: Pick<MouseEvent, "detail" | "timeStamp">): void {
  if (detail !== 0) last_tap_ms = timeStamp;
}
