// What is mixed for a zone: chosen anew, or taken over from the last time.

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { lay_out_as_kept } from "../../bench/bench";
import { amounts } from "../../bench/entries";
import { date_words } from "../../device/when";
import { use_grams, what_holds } from "../../gate/clients";
import { is_withheld } from "../../gate/held";
import { CautionLine } from "../../parts/caution";
import { KeptBack } from "../../parts/kept_back";
import { later } from "../../parts/later";
import { Offer } from "../../parts/offer";
import { address_of } from "../../place";
import {
  choose_again,
  client_name,
  last_service,
  type Service,
  same_as,
  type Zone,
  zones_of,
} from "../../salon/service/services";
import { WhatToMix } from "../../screens/mix";
import { mix_words } from "../../shelf/shelf";
import { hair_shown, wish_shown } from "../colours_shown";
import { Withheld } from "./safety";

const Weigh = later(() => import("../../screens/weigh").then((screen) => screen.Weigh));

/** Returns the choice of a mix, or the mix that was taken as what is weighed. */
export function Mix({ service, zone }: { service: Service; zone: Zone }) {
  if (zone.mix) return <Taken service={service} zone={zone} />;
  const withheld = is_withheld(service, zone);
  return <WhatToMix hair={hair_shown()} wish={wish_shown()} withheld={withheld} />;
}

/** What a regular had the last time, in one tap. */
export function SameAsLast({ service, zone }: { service: Service; zone: Zone }) {
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

/** The mix that was taken, as grams. */
function Taken({ service, zone }: { service: Service; zone: Zone }) {
  if (!zone.mix) return null;
  return (
    <>
      {is_withheld(service, zone) ? (
        <Withheld service={service} />
      ) : zone.rinsed_at ? (
        <Used key={zone.id} service={service}>
          <Weigh zone={zone} />
        </Used>
      ) : (
        <Weigh
          key={zone.id}
          zone={zone}
          onStrength={zone.first_section_at ? undefined : (percent) => with_strength(zone, percent)}
        />
      )}
      {!zone.first_section_at && (
        <button type="button" onClick={() => void choose_again(zone.id)}>
          Another mix instead
        </button>
      )}
      <CautionLine />
    </>
  );
}

/** Lets go of a mix whose developer is not there, for mixes with a strength that is. */
function with_strength(zone: Zone, developer_percent: number): void {
  amounts.value = { ...amounts.value, developer_percent };
  void choose_again(zone.id);
}

/** What went on an earlier day, kept back while another visit of the client is held. */
export function Used({ service, children }: { service: Service; children: ComponentChildren }) {
  const [shown, show] = useState(false);
  const client = service.client ?? "";
  const grams = use_grams(client, service.id);
  if (grams === "shown" || shown) return <>{children}</>;
  return (
    <KeptBack
      name={client_name(service)}
      asking={grams === "asking"}
      href={address_of(...what_holds(client))}
      onShow={() => show(true)}
    />
  );
}
