// The zones that were looked at on this phone: their prediction is kept whichever screen is open,
// since clocks and alarms go by the minutes it gives.
import { device_here, one, state_of } from "../records/read";
import { looks_of } from "../salon/service/readings";
import { running } from "../salon/service/running";
import { watch_zones } from "./watch";

/** Keeps the predictions of the zones on a head that were last looked at here; returns what ends that. */
export function watch_everywhere(): () => void {
  return watch_zones(() =>
    running.value.flatMap(({ zone }) => (was_looked_at_here(zone) ? [zone] : [])),
  );
}

/** Whether the last look at a zone was taken on this phone: a stamp ends with its phone's name. */
function was_looked_at_here(zone_id: string): boolean {
  const zone = one("zone", zone_id).value;
  const look = zone && looks_of(zone).at(-1);
  const stamp = look && state_of(look.id)?.created[0]?.eff;
  return stamp?.endsWith(device_here.value) ?? false;
}
