// The wish of a zone, and what a regular had the last time.
import { lay_out_as_kept } from "../../bench/bench";
import { date_words } from "../../device/when";
import { Offer } from "../../parts/offer";
import {
  last_service,
  type Service,
  same_as,
  type Zone,
  zones_of,
} from "../../salon/service/services";
import { Wish } from "../../screens/wish";
import { mix_words } from "../../shelf/shelf";
import { hair_shown } from "../colours_shown";

/** Returns the section "Wish" of a zone, open. */
export function WishOf({ service, zone }: { service: Service; zone: Zone }) {
  return (
    <>
      <SameAsLast service={service} zone={zone} />
      <Wish hair={hair_shown()} />
    </>
  );
}

/** What a regular had the last time, in one tap. */
function SameAsLast({ service, zone }: { service: Service; zone: Zone }) {
  const last = service.client ? last_service(service.client) : undefined;
  if (!last || zone.mix || zone.first_section_at) return null;
  const words = zones_of(last.id).flatMap(({ mix }) => (mix ? [mix_words(mix)] : []));
  return (
    <Offer
      name="Same as last time"
      words={`${words.join("; ")}, ${last.planned_at ? date_words(last.planned_at) : ""}`}
      onTap={async () => {
        await same_as(last.id, service.id);
        lay_out_as_kept(zone.id, "mix");
      }}
    />
  );
}
