// How many alert tests are to be read, and the way to them and to those of the coming days.
import { useEffect, useState } from "preact/hooks";
import { address_of } from "../../place";
import { all } from "../../records/read";
import { stage_of, unread } from "../../salon/alert_tests/alert_tests";

/** Returns the line; nothing while nobody is a client yet. */
export function TestsLine() {
  const [now_ms, put] = useState(Date.now());
  useEffect(() => {
    const beat = setInterval(() => put(Date.now()), 30_000);
    return () => clearInterval(beat);
  }, []);
  const to_read = unread.value.filter((test) => stage_of(test, now_ms) === "to_read").length;
  if (all("client").value.length === 0) return null;
  return (
    <a class="button" href={address_of("tests")}>
      Alert tests{to_read > 0 ? `: ${to_read} to read now` : ""}
    </a>
  );
}
