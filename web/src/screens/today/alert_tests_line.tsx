// How many alert tests are to be read, and the way to those of the coming days.
import { useEffect, useState } from "preact/hooks";
import { address_of } from "../../place";
import { stage_of, unread } from "../../salon/alert_tests/alert_tests";
import { coming } from "../../salon/alert_tests/due";

/** Returns the line; nothing while no test waits and nobody is planned. */
export function TestsLine() {
  const [now_ms, put] = useState(Date.now());
  useEffect(() => {
    const beat = setInterval(() => put(Date.now()), 30_000);
    return () => clearInterval(beat);
  }, []);
  const to_read = unread.value.filter((test) => stage_of(test, now_ms) === "to_read").length;
  if (unread.value.length === 0 && coming.value.length === 0) return null;
  return (
    <a class="button" href={address_of("tests")}>
      Alert tests{to_read > 0 ? `: ${to_read} to read now` : ""}
    </a>
  );
}
