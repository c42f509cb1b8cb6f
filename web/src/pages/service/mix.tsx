// What is mixed for a zone: a mix of the shelf, or a lightener.

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { amounts } from "../../bench/entries";
import { told_once } from "../../device/notifications";
import { use_grams, what_holds } from "../../gate/clients";
import { is_withheld } from "../../gate/held";
import { CautionLine } from "../../parts/caution";
import { KeptBack } from "../../parts/kept_back";
import { later } from "../../parts/later";
import { address_of } from "../../place";
import { is_mixed } from "../../salon/service/lightening";
import { client_name, type Service, type Zone } from "../../salon/service/services";
import { choose_again } from "../../salon/service/zone_acts";
import { WhatToMix } from "../../screens/mix";
import { hair_shown, wish_shown } from "../colours_shown";
import { GRAMS_WAIT, Withheld } from "./safety";

const Weigh = later(() => import("../../screens/weigh").then((screen) => screen.Weigh));
const LightenerEntry = later(() =>
  import("../../screens/lighten").then((screen) => screen.LightenerEntry),
);

/** Returns the section "What to mix" of a zone, open; of a zone under a lightener, its entry. */
export function MixOf({ service, zone }: { service: Service; zone: Zone }) {
  const told = is_mixed(zone) && !zone.first_section_at && told_once();
  return (
    <>
      {told && <p>{told}</p>}
      {!service.client && <p>A few grams, for a swatch or a strand that was cut off.</p>}
      {zone.work !== "lightener" ? (
        <Mix service={service} zone={zone} />
      ) : zone.rinsed_at ? (
        <Used key={zone.id} service={service}>
          <LightenerEntry zone={zone} />
        </Used>
      ) : (
        <LightenerEntry
          key={zone.id}
          zone={zone}
          withheld={is_withheld(service, zone) ? <Withheld service={service} /> : undefined}
        />
      )}
    </>
  );
}

/** Returns the choice of a mix, or the mix that was taken as what is weighed. */
function Mix({ service, zone }: { service: Service; zone: Zone }) {
  if (zone.mix) return <Taken service={service} zone={zone} />;
  const withheld = is_withheld(service, zone) ? GRAMS_WAIT : "";
  return <WhatToMix hair={hair_shown()} wish={wish_shown()} withheld={withheld} />;
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
          onStrength={
            zone.first_section_at || !service.client
              ? undefined
              : (percent) => with_strength(zone, percent)
          }
        />
      )}
      {!zone.first_section_at && service.client && (
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
function Used({ service, children }: { service: Service; children: ComponentChildren }) {
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
