// A zone on the head: what to do and when, before anything is drawn. The clock waits for no strip.
import { useMemo } from "preact/hooks";
import { waiting_words } from "../../engine/where";
import { BigOrder } from "../../parts/big_order";
import { ClockLines } from "../../parts/clock";
import { later } from "../../parts/later";
import { Stopped, Working } from "../../parts/notice";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import { held_of, try_again } from "../../prediction/held";
import { live_order } from "../../prediction/live";
import { minutes_of, now_ms, type Running, running } from "../../salon/service/running";

const Foretold = later(() => import("./foretold").then((part) => part.Foretold), {
  ...{ after: true, tall: true },
});

/** Returns the section "On the head" of a zone whose clock runs; the clock waits for no strip. */
export function LiveStrip({ clock }: { clock: Running }) {
  const present = useMemo(() => minutes_of(clock), [clock]).value;
  const { prediction, state, sentence } = useMemo(() => held_of(clock.zone), [clock.zone]).value;
  const order = useMemo(() => live_order(clock, time_of_day), [clock]).value;
  return (
    <>
      <BigOrder {...order} />
      <ClocksOfService service={clock.service} />
      <a class="button" href={address_of("reaction", clock.service)}>
        It tingles or burns
      </a>
      {!prediction && state === "working" && (
        <Working what="Working out the strip, minute by minute…" waiting={waiting_words.value} />
      )}
      {state === "failed" && <Stopped sentence={sentence ?? ""} onAgain={try_again} />}
      <Foretold clock={clock} present={present} />
    </>
  );
}

/** Apart, so that a second redraws the clocks and not the strip. */
function ClocksOfService({ service }: { service: string }) {
  return (
    <ClockLines
      clocks={running.value.filter((clock) => clock.service === service)}
      now_ms={now_ms.value}
    />
  );
}
