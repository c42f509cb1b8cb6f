// Several zones at once: the colours of the one that is due, all of them on one axis, and the rest
// in the order they come.
import { computed } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useMemo } from "preact/hooks";
import { countdown } from "../../parts/clock";
import { type MiniOf, MiniStrips } from "../../parts/strip/mini";
import { held, held_of, minute_in } from "../../prediction/held";
import { minutes_of, now_ms, type Running } from "../../salon/service/running";
import type { Zone } from "../../salon/service/services";
import { Undo } from "./dry";
import { Shade, short_words } from "./patches";
import { looked_at_zone } from "./state";
import { hour_and_minute } from "./time";

const MOST_DRAWN = 2;

/** Returns the colours of a zone at the present minute, each with its words. */
export function ThreeShades({ clock }: { clock: Running }) {
  const { prediction } = useMemo(() => held_of(clock.zone), [clock.zone]).value;
  const minute = useMemo(() => minutes_of(clock), [clock]).value;
  const at = prediction && minute_in(prediction.strip, minute);
  if (!at) return <p class="basin-none">The strip of {clock.zone_name} is not worked out yet.</p>;
  const shades = [
    [`${clock.zone_name}, on the head`, at.on_head],
    ["wiped", at.wiped],
    ["dry, if rinsed", at.if_rinsed],
  ] as const;
  return (
    <div class="basin-three">
      {shades.map(([name, colour]) => (
        <figure key={name}>
          <figcaption>{name}</figcaption>
          <Shade colour={colour} />
          <p>{short_words(colour)}</p>
        </figure>
      ))}
    </div>
  );
}

/** Returns the strips of zones on one axis of time, as far as they are worked out. */
export function StripsOf({ clocks, first }: { clocks: readonly Running[]; first: string }) {
  const strips = clocks.flatMap(({ zone, zone_name, began_ms, window }): MiniOf[] => {
    const { prediction } = held(zone);
    return prediction
      ? [{ zone, name: zone_name, began_ms, window, minutes: prediction.strip }]
      : [];
  });
  // Nothing moves while only seconds pass.
  const minute_ms = useMemo(
    () => computed(() => Math.floor(now_ms.value / 10_000) * 10_000),
    [],
  ).value;
  if (strips.length === 0) return null;
  return <MiniStrips strips={strips} now_ms={minute_ms} first={first} wall={hour_and_minute} />;
}

interface OverviewProps {
  due: Running;
  others: readonly Running[];
  /** Zones that are not on yet, and what is said of the whole work. */
  coming: readonly Zone[];
  slack?: string | undefined;
  /** The acts that have no room in the bar. */
  more: ComponentChildren;
  /** The zones under a lightener, and what opens the page of one. */
  lightened: readonly Running[];
  onLightened: (zone: string) => void;
}

/** Returns the zones of a head: what is due in colour, the others in the order they come. */
export function Overview({ due, others, coming, slack, more, ...rest }: OverviewProps) {
  const { lightened, onLightened } = rest;
  const rows = others.length + lightened.length + coming.length;
  const drawn = [due, ...others].slice(0, rows > MOST_DRAWN ? 1 : MOST_DRAWN);
  return (
    <>
      <div class="basin-ground">
        <ThreeShades clock={due} />
        <div class="basin-axis">
          <StripsOf clocks={drawn} first={due.zone} />
        </div>
      </div>
      <div class="basin-rest">
        {more}
        {others.map((clock) => (
          <OtherZone
            key={clock.zone}
            clock={clock}
            onTap={() => {
              looked_at_zone.value = clock.zone;
            }}
          />
        ))}
        {lightened.map((clock) => (
          <OtherZone key={clock.zone} clock={clock} onTap={() => onLightened(clock.zone)} />
        ))}
        {coming.map(({ id, name, first_section_at }) => (
          <p key={id} class="basin-row">
            <span>
              <strong>{name}</strong> {first_section_at ? "is going on" : "is not on yet"}
            </span>
          </p>
        ))}
        {slack && <p class="basin-slack">{slack}</p>}
        <Undo />
      </div>
    </>
  );
}

interface OtherZoneProps {
  clock: Running;
  onTap: () => void;
}

/** One zone that is not due yet. */
function OtherZone({ clock: { zone_name, due }, onTap }: OtherZoneProps) {
  return (
    <button type="button" class="basin-row" onClick={onTap}>
      <span>
        <strong>{zone_name}</strong> {due.words}
      </span>
      <Left at_ms={due.at_ms} />
    </button>
  );
}

/** Apart, so that a second redraws this alone. */
function Left({ at_ms }: { at_ms: number }) {
  return <span class="basin-left">{countdown(at_ms - now_ms.value)}</span>;
}
