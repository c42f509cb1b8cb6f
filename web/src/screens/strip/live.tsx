// The strip while the mix is on: it follows the clock until it is scrubbed, and one tap returns.
import { signal } from "@preact/signals";
import { useMemo } from "preact/hooks";
import { mix_in_hand } from "../../bench/chosen";
import { MINUTE_MS } from "../../device/when";
import { waiting_words, worked_out_words } from "../../engine/where";
import { BigOrder } from "../../parts/big_order";
import { CautionLine } from "../../parts/caution";
import { ClockLines } from "../../parts/clock";
import { Stopped, Working } from "../../parts/notice";
import { Strip, type StripOf } from "../../parts/strip";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import { held, held_of, type Prediction } from "../../prediction/held";
import { live_order } from "../../prediction/live";
import { try_again } from "../../prediction/watch";
import { minutes_of, now_ms, type Running, running } from "../../salon/service/running";
import { StripNotes } from ".";
import { MinuteWords } from "./minute";
import { Recipe } from "./recipe";

/** The minute looked at instead of the present one; null while the strip follows the clock. */
const looked_at = signal<number | null>(null);

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
      {prediction && (
        <>
          <Ground prediction={prediction} present={present} clock={clock} />
          <StripNotes minutes={prediction.strip} window={clock.window} />
          <p class="quiet">{worked_out_words(prediction)}</p>
        </>
      )}
      {mix_in_hand.value && <Recipe mix={mix_in_hand.value} />}
      <CautionLine />
    </>
  );
}

interface GroundProps {
  prediction: Prediction;
  present: number;
  clock: Running;
}

function Ground({ prediction: { strip: minutes }, present, clock }: GroundProps) {
  const last = minutes.at(-1)?.minute ?? 0;
  const minute = looked_at.value ?? Math.min(present, last);
  const at = minutes.find((one) => one.minute === minute);
  if (!at) return null;
  return (
    <div class="surround strip-ground">
      <Strip
        strips={[{ name: clock.zone_name, minutes, window: clock.window }]}
        beside={zones_beside(clock)}
        began_ms={clock.began_ms}
        minute={minute}
        onMinute={(chosen) => {
          looked_at.value = chosen === present ? null : chosen;
        }}
      />
      <MinuteWords at={at} />
      {looked_at.value !== null && (
        <button
          type="button"
          onClick={() => {
            looked_at.value = null;
          }}
        >
          Back to now, minute {present}
        </button>
      )}
    </div>
  );
}

/** The other zones that run, each placed by when its clock began. */
function zones_beside({ began_ms, service, zone }: Running): StripOf[] {
  return running.value.flatMap((other): StripOf[] => {
    if (other.service !== service || other.zone === zone) return [];
    const { prediction } = held(other.zone);
    if (!prediction) return [];
    const starts = Math.round((other.began_ms - began_ms) / MINUTE_MS);
    const { zone_name: name, window } = other;
    return [{ name, starts, minutes: prediction.strip, window }];
  });
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
