// The beginning of a service: its clock, and the block of what counted then, in one write.
import type { Window } from "../../api/shapes";
import { settings } from "../../device/settings";
import { at_now, MINUTE_MS, rfc3339 } from "../../device/when";
import { one } from "../../records/read";
import { new_id, together } from "../../records/write";
import type { Zone } from "./services";
import { start_of } from "./start";
import { weighed_fields } from "./weighed";

const NO_STRIP_YET: Window = { reason: "The strip is not worked out yet. Look at the hair." };

/** The first section has its mix: the maker's time runs from here. */
export async function first_section_on(zone: Zone): Promise<void> {
  const { id, service = "", most_minutes, window } = zone;
  // Tapped again while the rules were asked: it is on since the first tap.
  if (one("zone", id).value?.first_section_at) return;
  const weighed = weighed_fields(zone);
  await together(
    [
      {
        do: "change",
        kind: "zone",
        id,
        fields: {
          ...weighed,
          first_section_at: at_now(),
          deadline_at: rfc3339(Date.now() + (most_minutes ?? 0) * MINUTE_MS),
          // A clock runs whether or not an engine has answered yet.
          ...(!window && { window: NO_STRIP_YET }),
        },
      },
      { do: "create", kind: "start", id: new_id(), fields: start_of({ ...zone, ...weighed }) },
      {
        do: "change",
        kind: "service",
        id: service,
        fields: { state: "started", profile: settings.peek().profile },
      },
    ],
    "First section on.",
  );
}
