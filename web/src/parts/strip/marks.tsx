// The ink on and beside the lanes: minutes, the rinse window, the chosen minute.
import type { Window } from "../../api/shapes";
import { time_of_day } from "../words";
import { box, type Geometry, LANES, lane_spans, spread, words_at } from "./geometry";

const LABEL_PX = 20;
// The widest time of day, with its "PM", and a gap.
const TIME_PX = 84;
const MINUTE_MS = 60_000;

interface AxisProps {
  layout: Geometry;
  minutes: readonly number[];
  /** When minute 0 was, if the axis tells the time of day. */
  began_ms?: number | undefined;
}

/** Returns the minutes along the time axis, every five, or every fifteen of a long strip. */
export function Axis({ layout, minutes, began_ms }: AxisProps) {
  const every =
    minutes.length > 45 || (began_ms !== undefined && layout.minute_px < TIME_PX / 5) ? 15 : 5;
  return (
    <g class="strip-axis">
      {minutes.map((minute, row) => {
        const at_ms = (began_ms ?? 0) + minute * MINUTE_MS;
        if (Math.floor(at_ms / MINUTE_MS) % every !== 0) return null;
        const middle = layout.time_start + (row + 0.5) * layout.minute_px;
        const words = began_ms === undefined ? minute : time_of_day(at_ms);
        return layout.sideways ? (
          <text key={minute} x={middle} y={16} text-anchor="middle">
            {words}
          </text>
        ) : (
          <text key={minute} x={26} y={middle} text-anchor="end" dominant-baseline="central">
            {words}
          </text>
        );
      })}
    </g>
  );
}

/** Returns the names of the lanes: above them, or before them if the strip lies sideways. */
export function LaneNames({ layout, strip }: { layout: Geometry; strip: number }) {
  const spans = lane_spans(layout.across_start[strip] ?? 0, layout.across);
  return (
    <g class="strip-names">
      {LANES.map(([lane, , name], place) => {
        const { start, px } = spans[place] ?? { start: 0, px: 0 };
        const middle = start + px / 2;
        const [at, anchor] = [
          [start, "start"],
          [middle, "middle"],
          [start + px, "end"],
        ][place] as [number, "start" | "middle" | "end"];
        return layout.sideways ? (
          <text
            key={lane}
            x={layout.time_start - 10}
            y={middle}
            text-anchor="end"
            dominant-baseline="central"
          >
            {name}
          </text>
        ) : (
          <text key={lane} x={at} y={place === 1 ? 40 : 20} text-anchor={anchor}>
            {name}
          </text>
        );
      })}
    </g>
  );
}

interface StripNameProps {
  layout: Geometry;
  strip: number;
  name: string;
}

/** Returns the labels of several strips: a name, or a number if there is no room for it. */
export function StripName({ layout, strip, name }: StripNameProps) {
  const start = layout.across_start[strip] ?? 0;
  return layout.sideways ? (
    // Before the minutes, where the pointer to the present one never runs.
    <text class="strip-number" x={16} y={start - 10}>
      {name}
    </text>
  ) : (
    <text class="strip-number" x={start + layout.across / 2} y={36} text-anchor="middle">
      {strip + 1}
    </text>
  );
}

interface BracketProps {
  layout: Geometry;
  strip: number;
  first_minute: number;
  window: Window;
  /** Without words if several strips leave no room for them. */
  worded: boolean;
}

/** Returns the rinse window as a bracket in ink, with its words if there is room. */
export function Bracket({ layout, strip, first_minute, window, worded }: BracketProps) {
  if ("reason" in window) return null;
  const { earliest, best, latest } = window;
  const { minute_px, time_start, sideways, across } = layout;
  const edge = (layout.across_start[strip] ?? 0) + across + 4;
  const from = time_start + (earliest - first_minute) * minute_px;
  const to = time_start + (latest - first_minute + 1) * minute_px;
  const best_at = time_start + (best - first_minute + 0.5) * minute_px;
  const bars = [
    box(layout, from, to - from, edge + 4, 4),
    box(layout, from, 4, edge, 8),
    box(layout, to - 4, 4, edge, 8),
    box(layout, best_at - 2, 4, edge, 8),
  ];
  const said = words_at(from, to, layout.width);
  const words = [`from ${earliest}`, `best ${best}`, `by ${latest}`];
  const places = spread(
    [from + 8, best_at, to - 8],
    LABEL_PX,
    Math.max(to - 8, from + 3 * LABEL_PX),
  );
  return (
    <g class="strip-bracket">
      {bars.map((bar) => (
        <rect key={`${bar.x} ${bar.y} ${bar.width}`} {...bar} />
      ))}
      {worded &&
        !sideways &&
        words.map((word, place) => (
          <text key={word} x={edge + 14} y={places[place]} dominant-baseline="central">
            {word}
          </text>
        ))}
      {worded && sideways && (
        <text x={said.x} y={edge + 26} text-anchor={said.anchor}>
          {`rinse ${words.join(" · ")}`}
        </text>
      )}
    </g>
  );
}

/** Returns the bar that frames the chosen minute across all strips, with a pointer to it. */
export function Now({ layout, row }: { layout: Geometry; row: number }) {
  const { minute_px, time_start, across_start, across, sideways } = layout;
  const at = time_start + row * minute_px;
  const first = (across_start[0] ?? 0) - 6;
  const last = (across_start.at(-1) ?? 0) + across + 3;
  const middle = at + minute_px / 2;
  const pointer = sideways
    ? `${middle - 7},${first - 8} ${middle + 7},${first - 8} ${middle},${first + 2}`
    : `${first - 8},${middle - 7} ${first - 8},${middle + 7} ${first + 2},${middle}`;
  return (
    <g class="strip-now">
      <rect {...box(layout, at - 3, 3, first, last - first)} />
      <rect {...box(layout, at + minute_px, 3, first, last - first)} />
      <polygon points={pointer} />
    </g>
  );
}
