// What is foretold of a zone on the head: its strip, which follows the clock until it is scrubbed,
// and what is in its bowl.
import { signal } from "@preact/signals";
import { useMemo } from "preact/hooks";
import { mix_in_hand } from "../../bench/chosen";
import { MINUTE_MS } from "../../device/when";
import { worked_out_words } from "../../engine/where";
import { CautionLine } from "../../parts/caution";
import { Strip, type StripOf } from "../../parts/strip";
import { held, held_of, type Prediction } from "../../prediction/held";
import { type Running, running } from "../../salon/service/running";
import { StripNotes } from ".";
import { MinuteWords } from "./minute";
import { Recipe } from "./recipe";

/** The minute looked at instead of the present one; null while the strip follows the clock. */
const looked_at = signal<number | null>(null);

/** Returns the strip of a zone at its present minute, as far as it is worked out, and its mix. */
export function Foretold({ clock, present }: { clock: Running; present: number }) {
  const { prediction } = useMemo(() => held_of(clock.zone), [clock.zone]).value;
  return (
    <>
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
      <MinuteWords at={at} window={clock.window} />
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
