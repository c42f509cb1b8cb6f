// Announces the pink flush before it shows, so that nobody rinses in fright.
import type { StripMinute } from "../../api/shapes";

type WetLook = "on_head" | "wiped";

const FLUSHED = /flushed ([a-z-]+)/;

/** Returns when the engine calls a look flushed: from, to, and the pinkest minute. */
function flush_of(minutes: readonly StripMinute[], look: WetLook) {
  const flushed = minutes.filter((at) => FLUSHED.test(at[look].words));
  const pinkest = flushed.toSorted((a, b) => b[look].lab[1] - a[look].lab[1])[0];
  if (!pinkest) return undefined;
  const tone = FLUSHED.exec(pinkest[look].words)?.[1] ?? "pink";
  return { tone, minute: pinkest.minute, last: flushed.at(-1)?.minute ?? pinkest.minute };
}

/** Returns the flush of a strip: on the head, else when a strand is wiped; undefined for none. */
export function flush_expected(minutes: readonly StripMinute[]) {
  return flush_of(minutes, "on_head") ?? flush_of(minutes, "wiped");
}

/** Returns the sentence that announces a flush, or undefined where none is expected. */
export function flush_sentence(minutes: readonly StripMinute[]): string | undefined {
  const on_head = flush_of(minutes, "on_head");
  const flush = on_head ?? flush_of(minutes, "wiped");
  if (!flush) return undefined;
  const where = on_head ? "on the head" : "when you wipe a strand";
  return (
    `About minute ${flush.minute} it flushes ${flush.tone} ${where}; ` +
    `the blue is still forming. It settles after minute ${flush.last}.`
  );
}
