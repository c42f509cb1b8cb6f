// An alert test that is due shows over every place while the page is open, until somebody has heard
// it.
import { useEffect, useState } from "preact/hooks";
import { kept } from "../device/kept";
import { Ringing } from "../parts/ringing";
import { address_of, place } from "../place";
import { one } from "../records/read";
import { due_ms, stage_of, unread } from "../salon/alert_tests/alert_tests";

const heard = kept<string[]>("heard_tests", []);
const MOST_REMEMBERED = 60;
// setTimeout counts in 32 bits.
const LONGEST_WAIT_MS = 2 ** 31 - 1;

/** Returns the tests to read that nobody has heard about yet. */
export function TestsRinging() {
  const [now_ms, put] = useState(Date.now());
  const next_ms = Math.min(...unread.value.map(due_ms).filter((at_ms) => at_ms > now_ms));
  useEffect(() => {
    const look = () => put(Date.now());
    // A late timer does no harm: the clock decides what is due, not the timer.
    const wait = Number.isFinite(next_ms)
      ? setTimeout(look, Math.min(LONGEST_WAIT_MS, Math.max(0, next_ms - Date.now())))
      : undefined;
    document.addEventListener("visibilitychange", look);
    return () => {
      clearTimeout(wait);
      document.removeEventListener("visibilitychange", look);
    };
  }, [next_ms]);
  const due = unread.value.filter(
    (test) => stage_of(test, now_ms) === "to_read" && !heard.value.includes(test.id),
  );
  const first = due.find(({ id }) => place.value.id !== id);
  useEffect(() => {
    if (first) navigator.vibrate?.([300]);
  }, [first?.id]);
  if (!first) return null;
  const name = one("client", first.client ?? "").value?.name ?? "";
  return (
    <Ringing
      words={`Read the alert test: ${name}`}
      href={address_of("test", first.id)}
      onHeard={() => {
        heard.value = [...heard.peek(), first.id].slice(-MOST_REMEMBERED);
      }}
    />
  );
}
