// Strips of one hand's height on one axis of time: where each zone is, and when it may be rinsed.
import { useRef } from "preact/hooks";
import type { StripMinute, Window } from "../../api/shapes";
import { type Geometry, spread } from "./geometry";
import { Lanes } from "./lanes";
import "./mini.css";
import { use_width } from "./width";

const MINUTE_MS = 60_000;

export interface MiniOf {
  zone: string;
  name: string;
  /** When its minute 0 was, wall clock. */
  began_ms: number;
  minutes: readonly StripMinute[];
  window: Window;
}

interface MiniProps {
  strips: readonly MiniOf[];
  now_ms: number;
  /** How high the lanes of one strip are together, in pixels. */
  lanes_px?: number;
  /** The strip that is spoken of. */
  first: string;
  /** How a time of day is said. */
  wall: (at_ms: number) => string;
}

const LEFT_PX = 66;
const TOP_PX = 26;
const BRACKET_PX = 40;
const LABEL_PX = 52;

/** Returns the strips; a strip alone counts its minutes, several tell the time of day. */
export function MiniStrips({ strips, now_ms, lanes_px = 64, first, wall }: MiniProps) {
  const frame = useRef<HTMLDivElement>(null);
  const width = use_width(frame);
  const begins_ms = Math.min(...strips.map(({ began_ms }) => began_ms));
  const ends_ms = Math.max(...strips.map(end_of));
  const count = Math.max(1, Math.round((ends_ms - begins_ms) / MINUTE_MS));
  const minute_px = Math.max(1, (width - LEFT_PX - 2) / count);
  const step = lanes_px + BRACKET_PX;
  const layout: Geometry = {
    ...{
      sideways: true,
      width,
      height: TOP_PX + step * strips.length,
      minute_px,
      across: lanes_px,
    },
    time_start: LEFT_PX,
    across_start: strips.map((_, at) => TOP_PX + at * step),
  };
  const x_of = (at_ms: number) => LEFT_PX + ((at_ms - begins_ms) / MINUTE_MS) * minute_px;
  const now_x = Math.min(x_of(ends_ms), Math.max(LEFT_PX, x_of(now_ms)));
  const alone = strips.length === 1;
  return (
    <div ref={frame} class="mini" style={{ height: `${layout.height}px` }}>
      {width > 0 &&
        strips.map(({ zone, name, minutes, began_ms }, place) => (
          <Lanes
            key={zone}
            name={name}
            minutes={minutes}
            first_row={(began_ms - begins_ms) / MINUTE_MS}
            layout={layout}
            strip={place}
          />
        ))}
      {width > 0 && (
        <svg width={width} height={layout.height} aria-hidden="true">
          {strips.map((strip, place) => (
            <g key={strip.zone}>
              {alone ? (
                <LaneNames top={TOP_PX} lanes_px={lanes_px} />
              ) : (
                <text
                  class="mini-name"
                  x={LEFT_PX - 8}
                  y={TOP_PX + place * step + lanes_px / 2 + 5}
                >
                  {strip.name}
                </text>
              )}
              <MiniBracket
                strip={strip}
                x_of={x_of}
                top={TOP_PX + place * step + lanes_px + 4}
                width={width}
                alone={alone}
                wall={wall}
              />
            </g>
          ))}
          <path class="mini-now" d={pointer(now_x)} />
          {strips.map(({ zone }, place) => (
            <rect
              key={zone}
              class="mini-now"
              x={now_x - 1.5}
              y={TOP_PX - 4 + place * step}
              width={3}
              height={lanes_px + 6}
            />
          ))}
          <NowWords now_x={now_x} width={width}>
            {alone
              ? `minute ${minute_at(strips.find(({ zone }) => zone === first) ?? strips[0], now_ms)}`
              : wall(now_ms)}
          </NowWords>
        </svg>
      )}
    </div>
  );
}

function end_of({ began_ms, minutes }: MiniOf): number {
  return began_ms + minutes.length * MINUTE_MS;
}

function minute_at(strip: MiniOf | undefined, now_ms: number): number {
  return Math.max(0, Math.floor((now_ms - (strip?.began_ms ?? now_ms)) / MINUTE_MS));
}

function pointer(x: number): string {
  return `M${x - 8} ${TOP_PX - 13}h16l-8 10z`;
}

/** Beside the pointer, on the side where there is room. */
function NowWords({ now_x, width, children }: { now_x: number; width: number; children: string }) {
  const left = now_x > width / 2;
  return (
    <text
      class="mini-words"
      x={now_x + (left ? -12 : 12)}
      y={14}
      text-anchor={left ? "end" : "start"}
    >
      {children}
    </text>
  );
}

function LaneNames({ top, lanes_px }: { top: number; lanes_px: number }) {
  const middles = [0.21, 0.5, 0.79];
  return ["head", "wiped", "dry"].map((name, place) => (
    <text
      key={name}
      class="mini-name"
      x={LEFT_PX - 8}
      y={top + (middles[place] ?? 0) * lanes_px + 5}
    >
      {name}
    </text>
  ));
}

interface MiniBracketProps {
  strip: MiniOf;
  x_of: (at_ms: number) => number;
  top: number;
  width: number;
  alone: boolean;
  wall: (at_ms: number) => string;
}

/** The rinse window in ink, from its first minute to the end of its last. */
function MiniBracket({ strip, x_of, top, width, alone, wall }: MiniBracketProps) {
  const { began_ms, window } = strip;
  if ("reason" in window) return null;
  const { earliest, best, latest } = window;
  const at = (minute: number) => x_of(began_ms + minute * MINUTE_MS);
  const [from, to, best_x] = [at(earliest), at(latest + 1), at(best + 0.5)];
  const words = alone
    ? [`${earliest}`, `best ${best}`, `${latest}`]
    : [earliest, best, latest].map((minute) => wall(began_ms + minute * MINUTE_MS));
  if (!alone) words[1] = `best ${words[1]}`;
  const apart = alone ? LABEL_PX : LABEL_PX + 18;
  const places = spread([from + 2, best_x, to - 2], apart, width - 24);
  return (
    <g class="mini-bracket" data-window={`${earliest} ${best} ${latest}`}>
      <path
        d={`M${from + 1.5} ${top}v10h${to - from - 3}v-10M${best_x} ${top + 10}v6`}
        fill="none"
      />
      {words.map((word, place) => (
        <text key={word} x={places[place]} y={top + 30} text-anchor="middle">
          {word}
        </text>
      ))}
    </g>
  );
}
