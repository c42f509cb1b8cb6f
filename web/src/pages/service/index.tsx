// One service from top to bottom: wish, hair, mix, on the head, result. One section open at a time,
// of one zone at a time; what runs stays in the bar. From the last section on it is the basin.

import { useEffect } from "preact/hooks";
import { Absent } from "../../parts/absent";
import { BeforeYouMix } from "../../parts/caution";
import { later } from "../../parts/later";
import { address_of } from "../../place";
import { watch_predictions } from "../../prediction/watch";
import { one, records_ready } from "../../records/read";
import { notes_of_service } from "../../salon/clients";
import { basin_is_open } from "../../salon/service/basin";
import { client_name, zones_of } from "../../salon/service/services";
import { open_basin } from "../../screens/basin/state";
import { HandsNow } from "../../screens/gloves";
import { Whose } from "../../screens/in_hands";
import { Notes } from "../../screens/note";
import { PlannedAt } from "../../screens/today/planned_at";
import { Zones } from "../../screens/zones";
import { SectionList } from "../sections";
import { ServiceBasin } from "./basin";
import { useGate } from "./safety";
import { sections_of } from "./sections";
import { follow_zone, lay_out_zone, section_shown, zone_shown } from "./zone";

export { ServiceStep } from "./step";

const OrderOfWork = later(() => import("../../screens/order").then((screen) => screen.OrderOfWork));

/** A service, with whose it is. */
export function ServiceBody({ id }: { id: string }) {
  return (
    <>
      {!basin_is_open(id) && <Whose service={id} />}
      <ServicePage id={id} />
    </>
  );
}

/** Returns a service's page, open at the zone and section it has come to. */
function ServicePage({ id }: { id: string }) {
  const service = one("service", id).value;
  const zone = service && zone_shown(service);
  useEffect(() => {
    if (zone) void lay_out_zone(zone);
  }, [zone?.id]);
  useEffect(() => {
    if (zone) follow_zone(zone);
  }, [zone?.id, zone?.first_section_at, zone?.rinsed_at]);
  useGate(id);
  useEffect(() => watch_predictions(id), [id]);
  useEffect(() => open_basin, [id]);
  if (!records_ready.value) return <p class="quiet">Opening what is kept on this phone…</p>;
  if (!service || !zone)
    return <Absent what="service" href={address_of("today")} way="Go to today" />;
  if (basin_is_open(id)) return <ServiceBasin service={service} />;
  const notes = notes_of_service(id);
  return (
    <>
      <div class="service-head">
        <h2>
          <a href={address_of("client", service.client ?? "")}>{client_name(service)}</a>
        </h2>
        <PlannedAt service={service} />
      </div>
      <Zones service={service} />
      {zones_of(id).length > 1 && <OrderOfWork service_id={id} />}
      <SectionList
        sections={sections_of(service, zone)}
        now={section_shown(zone)}
        first={section_shown(zone) === "strip"}
        notice={<HandsNow service={id} />}
      />
      <details class="service-notes" open={section_shown(zone) === "result" || undefined}>
        <summary>Notes{notes.length > 0 ? `, ${notes.length}` : ""}</summary>
        <Notes about={{ service: id }} notes={notes} />
      </details>
      <BeforeYouMix />
    </>
  );
}
