// What follows a rinse: judging a dried strand, the ways on where it missed, what the head taught.
import { one } from "../records/read";
import { minutes_on, type Zone } from "../salon/service/services";
import { Judge } from "../screens/judge";
import { Learnt } from "../screens/judge/learnt";
import { WaysOn } from "../screens/mend";

/** Returns what a rinsed zone still asks for. */
export function AfterRinse({ zone }: { zone: Zone }) {
  const client = one("service", zone.service ?? "").value?.client;
  return (
    <>
      <Judge zone={zone} minute={minutes_on(zone)} rinsed />
      <WaysOn zone={zone} />
      {client && <Learnt client={client} zone={zone} />}
    </>
  );
}
