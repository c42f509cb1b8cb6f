// What rinsing now costs, before the window: said first, and done only by a hold.
import type { ComponentChildren } from "preact";
import { useMemo } from "preact/hooks";
import { held_of, minute_in } from "../../prediction/held";
import { rinse_from_ms } from "../../salon/service/order";
import { minutes_of, type Running } from "../../salon/service/running";
import { StripsOf } from "./overview";
import { Shade } from "./patches";
import { hour_and_minute } from "./time";

const MINUTE_MS = 60_000;

/** Returns how much too early a rinse is at a minute, in whole minutes; 0 inside the window. */
export function too_early_min(clock: Running, minute: number): number {
  const from_ms = rinse_from_ms(clock);
  if (from_ms === undefined) return 0;
  return Math.max(0, Math.ceil((from_ms - clock.began_ms) / MINUTE_MS) - minute);
}

/** Returns the price of an early rinse: by how much, and both dry colours. */
export function Early({ clock, more }: { clock: Running; more: ComponentChildren }) {
  const { prediction } = useMemo(() => held_of(clock.zone), [clock.zone]).value;
  const minute = useMemo(() => minutes_of(clock), [clock]).value;
  const { window } = clock;
  const best = "best" in window ? window.best : undefined;
  const now = prediction && minute_in(prediction.strip, minute)?.if_rinsed;
  const later = prediction && best !== undefined && minute_in(prediction.strip, best)?.if_rinsed;
  return (
    <div class="basin-early">
      {more}
      <div class="basin-two-shades">
        <figure>
          <figcaption>dry, rinsed now</figcaption>
          <Shade colour={now} />
          <p>{now?.words}</p>
        </figure>
        {later && best !== undefined && (
          <figure>
            <figcaption>
              dry, rinsed {hour_and_minute(clock.began_ms + best * MINUTE_MS)}
            </figcaption>
            <Shade colour={later} />
            <p>{later.words}</p>
          </figure>
        )}
      </div>
      <div class="basin-axis">
        <StripsOf clocks={[clock]} first={clock.zone} />
      </div>
    </div>
  );
}
