// The strip while the mix is on: it follows the clock until it is scrubbed, and one tap returns.
import { computed, signal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import type { StripMinute, Window } from "../../api/shapes";
import { mix_in_hand } from "../../bench/chosen";
import { MINUTE_MS } from "../../device/when";
import { CautionLine } from "../../parts/caution";
import { ClockLines } from "../../parts/clock";
import { Strip, type StripOf } from "../../parts/strip";
import { has_room } from "../../parts/strip/room";
import { address_of } from "../../place";
import { minutes_of, now_ms, type Running, running } from "../../salon/service/running";
import { StripAnswer, StripNotes } from ".";
import { beside, watch_beside } from "./beside";
import { MinuteWords, OrderWords } from "./minute";
import { Recipe } from "./recipe";

/** The minute looked at instead of the present one; null while the strip follows the clock. */
const looked_at = signal<number | null>(null);

/** Returns the section "On the head" of a zone whose clock runs; the clock waits for no strip. */
export function LiveStrip({ clock }: { clock: Running }) {
  const present = useMemo(() => minutes_of(clock), [clock]).value;
  const { service, zone } = clock;
  useEffect(
    () => (has_room.value ? watch_beside(service, zone) : undefined),
    [service, zone, has_room.value],
  );
  const over = useMemo(() => computed(() => now_ms.value >= clock.most_ms), [clock]).value;
  return (
    <>
      <OrderWords minute={present} window={clock.window} over={over} />
      <ClocksOfService service={clock.service} />
      <a class="button" href={address_of("reaction", clock.service)}>
        It tingles or burns
      </a>
      <StripAnswer>
        {(minutes, window) => (
          <>
            <Ground minutes={minutes} window={window} present={present} clock={clock} />
            <StripNotes minutes={minutes} window={window} />
          </>
        )}
      </StripAnswer>
      {mix_in_hand.value && <Recipe mix={mix_in_hand.value} />}
      <CautionLine />
    </>
  );
}

interface GroundProps {
  minutes: readonly StripMinute[];
  window: Window;
  present: number;
  clock: Running;
}

function Ground({ minutes, window, present, clock }: GroundProps) {
  const last = minutes.at(-1)?.minute ?? 0;
  const minute = looked_at.value ?? Math.min(present, last);
  const at = minutes.find((one) => one.minute === minute);
  if (!at) return null;
  return (
    <div class="surround strip-ground">
      <Strip
        strips={[{ name: clock.zone_name, minutes, window }]}
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
function zones_beside({ began_ms, service }: Running): StripOf[] {
  return running.value.flatMap((other): StripOf[] => {
    const worked = other.service === service && beside.value[other.zone];
    if (!worked) return [];
    const starts = Math.round((other.began_ms - began_ms) / MINUTE_MS);
    return [{ name: other.zone_name, starts, ...worked }];
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
