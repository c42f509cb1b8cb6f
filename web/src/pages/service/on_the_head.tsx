// A zone on the head: its clock and its order, then a look at the basin.
import { useMemo } from "preact/hooks";
import { alarm_words } from "../../alarm";
import { later } from "../../parts/later";
import { minutes_of, type Running, running } from "../../salon/service/running";
import type { Zone } from "../../salon/service/services";
import { open_basin } from "../../screens/basin/state";
import { LiveStrip } from "../../screens/strip/live";

const UnderLightener = later(() =>
  import("../../screens/lighten/live").then((screen) => screen.UnderLightener),
);
const Judge = later(() => import("../../screens/judge").then((screen) => screen.Judge), {
  after: true,
});

/** Returns the section "On the head" of a zone, open. */
export function OnTheHead({ zone }: { zone: Zone }) {
  const clock = running.value.find((one) => one.zone === zone.id);
  if (!clock) {
    return (
      <p>{zone.rinsed_at ? "This zone is rinsed." : "The clock starts with the first section."}</p>
    );
  }
  return (
    <>
      {zone.work === "lightener" ? (
        <UnderLightener key={zone.id} zone={zone} clock={clock} />
      ) : (
        <>
          <LiveStrip clock={clock} />
          <JudgeNow key={zone.id} zone={zone} clock={clock} />
        </>
      )}
      <p class="quiet">{alarm_words()}</p>
    </>
  );
}

/** The look at the basin, at the present minute. */
function JudgeNow({ zone, clock }: { zone: Zone; clock: Running }) {
  const minute = useMemo(() => minutes_of(clock), [clock]).value;
  return <Judge zone={zone} minute={minute} onKept={open_basin} />;
}
