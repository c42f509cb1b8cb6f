// Which day it is by this phone's wall clock. It moves at midnight, with the page open or asleep.
import { effect, signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { day_of } from "../../device/when";
import { now_ms } from "../../salon/service/running";

const BEAT_MS = 30_000;

/** Today, "YYYY-MM-DD". */
export const today = signal(day_of(Date.now()));

function look(): void {
  today.value = day_of(Date.now());
}

// The clock of a running service moves it at once.
effect(() => {
  if (now_ms.value) look();
});

/** Keeps `today` right while the page shows a day. */
export function useToday(): string {
  useEffect(() => {
    look();
    const beat = setInterval(look, BEAT_MS);
    document.addEventListener("visibilitychange", look);
    return () => {
      clearInterval(beat);
      document.removeEventListener("visibilitychange", look);
    };
  }, []);
  return today.value;
}
