// What was heard of a zone's alarms, on whichever phone: each is written under what it asked for and
// its own moment, so an alarm of another moment still rings.
import { at_now } from "../../device/when";
import { author_here, device_here, one } from "../../records/read";
import { type Change, together } from "../../records/write";
import type { Moment } from "./moments";

/** Returns the keys of every alarm of these zones that somebody heard. */
export function keys_heard(zones: readonly string[]): string[] {
  return zones.flatMap((zone) =>
    Object.keys(one("zone", zone).value?.heard ?? {}).map((heard_as) => `${zone} ${heard_as}`),
  );
}

/** Writes on the zones' records that their alarms were heard here. It is no act to take back. */
export async function keep_heard(moments: readonly Moment[]): Promise<void> {
  const said = heard_now();
  const changes = moments
    .filter(({ zone, heard_as }) => {
      const found = one("zone", zone).peek();
      return found && !found.heard?.[heard_as];
    })
    .map(({ zone, heard_as }) => hearing("zone", zone, heard_as, said));
  if (changes.length > 0) await together(changes, null);
}

/** Writes on an alert test's record that its alarm was heard here. */
export async function keep_test_heard(test: string, heard_as: string): Promise<void> {
  await together([hearing("alert_test", test, heard_as, heard_now())], null);
}

function heard_now() {
  return { at: at_now(), by: author_here.peek() || device_here.peek() };
}

function hearing(
  kind: "zone" | "alert_test",
  id: string,
  heard_as: string,
  said: { at: string; by: string },
): Change {
  return { do: "change", kind, id, fields: { [`heard.${heard_as}`]: said } } as Change;
}
