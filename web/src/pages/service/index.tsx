// A service: from the last section on until the rinse it is the basin, before and after that its
// whole page. Each is loaded when it is shown, and the other one after it.
import { useEffect } from "preact/hooks";
import { later, use_ahead } from "../../parts/later";
import { address_of } from "../../place";
import { one, records_ready } from "../../records/read";
import { basin_is_open } from "../../salon/service/basin";
import { open_basin } from "../../screens/basin/state";
import { watch_service } from "./watch";
import { follow_zone, lay_out_zone, zone_shown } from "./zone";

const Absent = later(() => import("../../parts/absent").then((part) => part.Absent));
const Basin = later(() => import("./basin").then((page) => page.ServiceBasin), { tall: true });
const BasinStep = later(() => import("./basin").then((page) => page.ServiceBasinStep), {
  quiet: true,
});
const Whole = later(() => import("./whole").then((page) => page.Whole), { tall: true });
const WholeStep = later(() => import("./whole").then((page) => page.WholeStep), { quiet: true });
const COMING = [Basin, BasinStep, Whole, WholeStep];

/** Returns a service's page, open at the zone and section it has come to. */
export function ServiceBody({ id }: { id: string }) {
  const service = one("service", id).value;
  const zone = service && zone_shown(service);
  useEffect(() => {
    if (zone) void lay_out_zone(zone);
  }, [zone?.id]);
  useEffect(() => {
    if (zone) follow_zone(zone);
  }, [zone?.id, zone?.first_section_at, zone?.rinsed_at]);
  useEffect(() => watch_service(id), [id]);
  useEffect(() => open_basin, [id]);
  use_ahead(COMING);
  if (!records_ready.value) return <p class="quiet">Opening what is kept on this phone…</p>;
  if (!service || !zone)
    return <Absent what="service" href={address_of("today")} way="Go to today" />;
  if (basin_is_open(id)) return <Basin service={service} />;
  return <Whole service={service} zone={zone} />;
}

/** Returns the next step of a service, for the thumb. */
export function ServiceStep({ id }: { id: string }) {
  const service = one("service", id).value;
  const zone = service && zone_shown(service);
  if (!service || !zone) return null;
  if (basin_is_open(id)) return <BasinStep service={service} />;
  return <WholeStep service={service} zone={zone} />;
}
