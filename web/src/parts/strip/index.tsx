// The development strip: what is seen on the head, what is under it, and what would be had dry,
// minute by minute. Scrubbed with the thumb or the arrow keys; read out as a sentence a minute.
import { useRef } from "preact/hooks";
import type { StripMinute, Window } from "../../api/shapes";
import { geometry } from "./geometry";
import { Lanes } from "./lanes";
import { Axis, Bracket, LaneNames, Now, StripName } from "./marks";
import "./style.css";
import { use_width } from "./width";
import { minute_sentence } from "./window";

export interface StripOf {
  name: string;
  minutes: readonly StripMinute[];
  window: Window;
  /** How many minutes after the first strip's own it begins; before it below 0. */
  starts?: number;
}

interface StripProps {
  /** All for one mix, so all of the same minutes; the first is the hair itself. */
  strips: readonly [StripOf, ...StripOf[]];
  /** Other zones with clocks of their own: drawn when the strip lies on its side. */
  beside?: readonly StripOf[];
  /** When the first strip's minute 0 was: the axis then tells the time of day. */
  began_ms?: number;
  minute: number;
  onMinute: (minute: number) => void;
}

const SIDEWAYS_FROM_PX = 520;

/** Returns the strip, or several on one time axis, as one slider over the minutes. */
export function Strip({ strips: of_mix, beside = [], began_ms, minute, onMinute }: StripProps) {
  const frame = useRef<HTMLDivElement>(null);
  const width = use_width(frame);
  const [own] = of_mix;
  const [first, last] = ends_of(own);
  const sideways = width >= SIDEWAYS_FROM_PX;
  const strips = sideways ? [...of_mix, ...beside] : of_mix;
  const axis_first = Math.min(...strips.map((strip) => ends_of(strip)[0]));
  const axis_last = Math.max(...strips.map((strip) => ends_of(strip)[1]));
  const minutes = Array.from({ length: axis_last - axis_first + 1 }, (_, at) => axis_first + at);
  const row = minute - axis_first;
  const layout = geometry({ width, strips: strips.length, minutes: minutes.length, sideways });

  function scrub(event: PointerEvent & { currentTarget: HTMLElement }): void {
    const { left, top } = event.currentTarget.getBoundingClientRect();
    const along = sideways ? event.clientX - left : event.clientY - top;
    const at = axis_first + Math.floor(along / layout.minute_px);
    onMinute(Math.min(last, Math.max(first, at)));
  }

  function step(event: KeyboardEvent): void {
    const to = {
      ArrowDown: minute + 1,
      ArrowRight: minute + 1,
      ArrowUp: minute - 1,
      ArrowLeft: minute - 1,
      PageDown: minute + 5,
      PageUp: minute - 5,
      Home: first,
      End: last,
    }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    onMinute(Math.min(last, Math.max(first, to)));
  }

  const across = (layout.across_start.at(-1) ?? 0) + layout.across - (layout.across_start[0] ?? 0);
  const along = layout.minute_px * minutes.length;
  const at = own.minutes[minute - first];
  const drawn = (
    <div ref={frame} class="strip">
      {width > 0 && (
        <>
          {strips.map((strip, place) => (
            <Lanes
              key={strip.name}
              name={strip.name}
              minutes={strip.minutes}
              first_row={ends_of(strip)[0] - axis_first}
              layout={layout}
              strip={place}
            />
          ))}
          <svg width={layout.width} height={layout.height} aria-hidden="true">
            <Axis
              layout={layout}
              minutes={minutes}
              began_ms={beside.length > 0 && sideways ? began_ms : undefined}
            />
            <Now layout={layout} row={row} />
            {strips.map(({ name, window, starts = 0 }, place) => (
              <g key={name}>
                {(strips.length === 1 || sideways) && <LaneNames layout={layout} strip={place} />}
                <Bracket
                  layout={layout}
                  strip={place}
                  first_minute={axis_first - starts}
                  window={window}
                  worded={strips.length === 1 || sideways}
                />
                {strips.length > 1 && (
                  <StripName
                    layout={layout}
                    strip={place}
                    name={beside.length > 0 ? name : `${place + 1} ${name}`}
                  />
                )}
              </g>
            ))}
          </svg>
          <div
            class="strip-slider"
            role="slider"
            tabIndex={0}
            aria-label="Minute"
            aria-orientation={sideways ? "horizontal" : "vertical"}
            aria-valuemin={first}
            aria-valuemax={last}
            aria-valuenow={minute}
            aria-valuetext={at ? minute_sentence(at, own.window) : ""}
            style={
              sideways
                ? {
                    left: `${layout.time_start}px`,
                    top: `${layout.across_start[0]}px`,
                    width: `${along}px`,
                    height: `${across}px`,
                  }
                : {
                    left: `${layout.across_start[0]}px`,
                    top: `${layout.time_start}px`,
                    width: `${across}px`,
                    height: `${along}px`,
                  }
            }
            onKeyDown={step}
            onPointerDown={(event) => {
              event.currentTarget.setPointerCapture(event.pointerId);
              scrub(event);
            }}
            onPointerMove={(event) => {
              if (event.currentTarget.hasPointerCapture(event.pointerId)) scrub(event);
            }}
          />
        </>
      )}
    </div>
  );
  if (sideways || strips.length === 1) return drawn;
  return (
    <>
      <ol class="strip-legend">
        {strips.map(({ name }, place) => (
          <li key={name}>
            <strong>{place + 1}</strong> {name}
          </li>
        ))}
      </ol>
      {drawn}
    </>
  );
}

/** Returns a strip's first and last minute on the axis. */
function ends_of({ minutes, starts = 0 }: StripOf): readonly [number, number] {
  return [starts + (minutes[0]?.minute ?? 0), starts + (minutes.at(-1)?.minute ?? 0)];
}
