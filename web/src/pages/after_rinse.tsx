// What follows a rinse: the ways on where it missed, and what the head taught.
import { one } from "../records/read";
import type { Zone } from "../salon/service/services";
import { Learnt } from "../screens/judge/learnt";
import { WaysOn } from "../screens/mend";

/** Returns the open steps of a rinsed zone. */
export function AfterRinse({ zone }: { zone: Zone }) {
  const client = one("service", zone.service ?? "").value?.client;
  return (
    <>
      <WaysOn zone={zone} />
      {client && <Learnt client={client} zone={zone} />}
    </>
  );
}
