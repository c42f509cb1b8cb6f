// Where everything in a development strip lies, in whole CSS pixels. Time runs down the page, or
// across it where the page is wide; the lanes touch, so that one reads across a minute.
type LaneName = "on_head" | "wiped" | "if_rinsed";

/** The share of the strip each lane takes: wide, narrow, wide. */
export const LANES: readonly (readonly [LaneName, number, string])[] = [
  ["on_head", 0.42, "on the head"],
  ["wiped", 0.16, "wiped"],
  ["if_rinsed", 0.42, "dry, rinsed"],
];

/** The share of a lane that each sliver at its sides takes. */
const FRINGE = 0.1;

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

export interface Geometry {
  sideways: boolean;
  width: number;
  height: number;
  /** Pixels of one minute along the time axis. */
  minute_px: number;
  /** The start of the first minute, and the start of the lanes across it, strip by strip. */
  time_start: number;
  across_start: readonly number[];
  /** The width of one strip's three lanes together. */
  across: number;
}

interface Room {
  width: number;
  strips: number;
  minutes: number;
  sideways: boolean;
}

const UPRIGHT = {
  top: 48,
  bottom: 8,
  left: 44,
  bracket: 84,
  thin_bracket: 12,
  gap: 8,
  tallest: 384,
};
const SIDEWAYS = { top: 40, left: 116, right: 20, bracket: 36, gap: 12, name: 28 };

/** Returns the geometry of this many strips of this many minutes in the given room. */
export function geometry({ width, strips, minutes, sideways }: Room): Geometry {
  const count = Math.max(1, minutes);
  if (sideways) {
    const minute_px = Math.max(3, Math.floor((width - SIDEWAYS.left - SIDEWAYS.right) / count));
    const across = strips === 1 ? 160 : 112;
    const name = strips === 1 ? 0 : SIDEWAYS.name;
    const step = name + across + SIDEWAYS.bracket + SIDEWAYS.gap;
    return {
      sideways,
      width,
      height: SIDEWAYS.top + step * strips,
      minute_px,
      time_start: SIDEWAYS.left,
      across_start: Array.from({ length: strips }, (_, at) => SIDEWAYS.top + name + at * step),
      across,
    };
  }
  const minute_px = Math.min(32, Math.max(4, Math.floor(UPRIGHT.tallest / count)));
  const right = strips === 1 ? UPRIGHT.bracket : 0;
  const beside = strips === 1 ? 0 : UPRIGHT.thin_bracket + UPRIGHT.gap;
  const across = Math.floor((width - UPRIGHT.left - right) / strips) - beside;
  return {
    sideways,
    width,
    height: UPRIGHT.top + minute_px * count + UPRIGHT.bottom,
    minute_px,
    time_start: UPRIGHT.top,
    across_start: Array.from({ length: strips }, (_, at) => UPRIGHT.left + at * (across + beside)),
    across,
  };
}

/** Returns the box of a stretch of time by a stretch across it, whichever way the strip lies. */
export function box(
  { sideways }: Geometry,
  time: number,
  time_px: number,
  across: number,
  across_px: number,
): Box {
  return sideways
    ? { x: time, y: across, width: time_px, height: across_px }
    : { x: across, y: time, width: across_px, height: time_px };
}

/** Returns the start and width of each lane of a strip; the three fill the strip. */
export function lane_spans(strip_start: number, across: number): { start: number; px: number }[] {
  let start = strip_start;
  return LANES.map(([, share], place) => {
    const px =
      place === LANES.length - 1 ? strip_start + across - start : Math.round(across * share);
    const span = { start, px };
    start += px;
    return span;
  });
}

/** Returns the three slivers of a lane: cooler edge, the colour itself, warmer edge. */
export function slivers({ start, px }: { start: number; px: number }) {
  const edge = Math.max(2, Math.round(px * FRINGE));
  return [
    { start, px: edge },
    { start: start + edge, px: px - 2 * edge },
    { start: start + px - edge, px: edge },
  ] as const;
}

/** Returns label places at least `apart` from one another, as near as possible to their own. */
export function spread(wanted: readonly number[], apart: number, last: number): number[] {
  const placed: number[] = [];
  for (const at of wanted) placed.push(Math.max(at, (placed.at(-1) ?? -Infinity) + apart));
  for (let place = placed.length - 1, limit = last; place >= 0; place -= 1) {
    placed[place] = Math.min(placed[place] ?? limit, limit);
    limit = (placed[place] ?? limit) - apart;
  }
  return placed;
}

/** Returns where the words of a window lie below it: before its end, where it ends with the strip. */
export function words_at(from: number, to: number, width: number) {
  const middle = (from + to) / 2;
  return middle > 0.6 * width
    ? { x: to, anchor: "end" as const }
    : { x: middle, anchor: "middle" as const };
}
