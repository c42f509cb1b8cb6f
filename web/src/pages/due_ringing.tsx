// An alert test that is due shows over every place while the page is open, until somebody has heard
// it.
import { useEffect, useState } from "preact/hooks";
import { kept } from "../device/kept";
import { Ringing } from "../parts/ringing";
import { address_of, place } from "../place";
import { one } from "../records/read";
import { type AlertTest, due_ms, stage_of, unread } from "../salon/alert_tests/alert_tests";
import { keep_test_heard } from "../salon/service/heard";
import { heard_as } from "../salon/service/moments";

/** What was heard on this phone. It is silent at once, also where the record cannot be written. */
const heard_here = kept<string[]>("heard_tests", []);
const MOST_REMEMBERED = 60;
// setTimeout counts in 32 bits.
const LONGEST_WAIT_MS = 2 ** 31 - 1;

const as_heard = (test: AlertTest) => heard_as("read", due_ms(test));
const key_of = (test: AlertTest) => `${test.id} ${as_heard(test)}`;

function was_heard(test: AlertTest): boolean {
  return heard_here.value.includes(key_of(test)) || test.heard?.[as_heard(test)] !== undefined;
}

function hear(test: AlertTest): void {
  heard_here.value = [...heard_here.peek(), key_of(test)].slice(-MOST_REMEMBERED);
  // Where the store does not take it, the page says so; this phone stays silent all the same.
  keep_test_heard(test.id, as_heard(test)).catch(() => undefined);
}

/** Returns the first test to read that nobody has heard about yet. */
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
    (test) => stage_of(test, now_ms) === "to_read" && !was_heard(test),
  );
  const first = due.find(({ id }) => place.value.id !== id);
  useEffect(() => {
    if (first) navigator.vibrate?.([300]);
  }, [first?.id]);
  if (!first) return null;
  const name = one("client", first.client ?? "").value?.name ?? "";
  return (
    <Ringing
      key={first.id}
      words={`Read the alert test: ${name}`}
      href={address_of("test", first.id)}
      onHeard={() => hear(first)}
    />
  );
}
