// One service from top to bottom: wish, hair, mix, on the head, result. One section open at a time,
// of one zone at a time; what runs stays in the bar.
import { later, use_ahead } from "../../parts/later";
import { address_of } from "../../place";
import { notes_of_service } from "../../salon/notes";
import { client_name, type Service, type Zone, zones_of } from "../../salon/service/services";
import { HandsNow } from "../../screens/gloves";
import { Whose } from "../../screens/in_hands";
import { PlannedAt } from "../../screens/today/planned_at";
import { Zones } from "../../screens/zones";
import { SectionList } from "../sections";
import { COMING, sections_of } from "./sections";
import { open_in, section_shown } from "./zone";

export { WholeStep } from "./step";

const OrderOfWork = later(() => import("../../screens/order").then((screen) => screen.OrderOfWork));
const BeforeYouMix = later(() => import("../../parts/caution").then((part) => part.BeforeYouMix), {
  after: true,
});
const Notes = later(() => import("../../screens/note").then((screen) => screen.Notes), {
  after: true,
});

/** Returns the whole page of a service, with whose it is. */
export function Whole({ service, zone }: { service: Service; zone: Zone }) {
  const { id } = service;
  const notes = notes_of_service(id);
  use_ahead(COMING);
  return (
    <>
      <Whose service={id} />
      <div class="service-head">
        <h2>
          {service.client ? (
            <a href={address_of("client", service.client)}>{client_name(service)}</a>
          ) : (
            client_name(service)
          )}
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
        onOpen={(section) => void open_in(zone, section)}
      />
      <details class="service-notes" open={section_shown(zone) === "result" || undefined}>
        <summary>Notes{notes.length > 0 ? `, ${notes.length}` : ""}</summary>
        <Notes about={{ service: id }} notes={notes} />
      </details>
      <BeforeYouMix />
    </>
  );
}
