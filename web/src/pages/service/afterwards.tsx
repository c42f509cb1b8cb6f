// What follows a result: its photo and the next visit, the ways on where it missed, what the head taught, and its formula to keep.
import { one } from "../../records/read";
import { keep_zone } from "../../salon/formulas";
import { client_name, type Service, type Zone } from "../../salon/service/services";
import { KeepFormula } from "../../screens/formulas/keep";
import { Learnt } from "../../screens/judge/learnt";
import { WaysOn } from "../../screens/mend";
import { ResultRest } from "../../screens/result/rest";
import { wish_words } from "../../screens/wish/shown";

/** Returns what follows the result of a service, and of its zone where that was mixed. */
export function Afterwards({ service, zone }: { service: Service; zone: Zone }) {
  const client = one("service", zone.service ?? "").value?.client;
  return (
    <>
      <ResultRest service={service} />
      {zone.rinsed_at && zone.mix && <WaysOn key={zone.id} zone={zone} />}
      {zone.rinsed_at && zone.mix && client && <Learnt key={zone.id} client={client} zone={zone} />}
      {zone.mix && (
        <KeepFormula
          key={zone.id}
          about={zone.id}
          usual={[client_name(service), wish_words.value].filter(Boolean).join(", ")}
          keep={(name) => keep_zone(name, zone, service.client)}
        />
      )}
    </>
  );
}
