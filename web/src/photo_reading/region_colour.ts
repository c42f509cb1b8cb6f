// The colour of one marked region: of its clean part, without gloss and without its edges.
import type { Pixels, Point, Region } from "./shapes";

export interface RegionColour {
  /** The code of each channel, 0 to 1, as the picture has it. */
  readonly code: readonly [r: number, g: number, b: number];
  /** The middle of the region, in parts of the picture's width from its centre. */
  readonly at: Point;
  readonly pixels: number;
  /** The share of the clean part in which a channel is at its upper end; at its lower end. */
  readonly burnt: number;
  readonly black: number;
  /** How much single pixels differ from their neighbours, in codes of 0 to 1. */
  readonly grain: number;
  /** How far the colour near the edges lies from the colour in the middle, in codes of 0 to 1. */
  readonly bleed: number;
}

/** What is left off at each side: marks are set by hand, and a lens softens edges. */
const EDGE = 0.14;
/** Light codes from here on count as the end of the scale, dark ones up to here. */
const [BURNT, BLACK] = [253, 1];
/** As many points are looked at along each side of a region at most. */
const MOST_ALONG = 96;
// Gloss makes a part of a region lighter. So the dark part alone is looked at: the pixels about the
// 10th and the 35th hundredth. Of a normal spread those lie 1.282 and 0.385 deviations below its
// middle, so the middle follows from them.
const [LOW, HIGH] = [
  [0.05, 0.15],
  [0.25, 0.45],
] as const;
const TO_MIDDLE = 0.385 / (1.282 - 0.385);

/** Returns the four corners of a region, in order round its edge. */
export function corners_of(region: Region): readonly [Point, Point, Point, Point] {
  if ("corners" in region) return region.corners;
  const { x, y, width, height } = region;
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
}

/** Returns whether a region lies in the picture; a pixel over the edge is the hand's. */
export function is_inside(region: Region, { width, height }: Pixels): boolean {
  return corners_of(region).every(
    ([x, y]) => x >= -1 && y >= -1 && x <= width + 1 && y <= height + 1,
  );
}

/** Returns the colour of a region's clean part. The region must lie in the picture. */
export function colour_of(region: Region, pixels: Pixels): RegionColour {
  const seen = seen_in(region, pixels);
  const order = seen.map((one, at) => [luma(one), at] as const).sort(([a], [b]) => a - b);
  const part = ([from, to]: readonly [number, number]) =>
    order
      .slice(Math.floor(from * order.length), Math.max(1, Math.ceil(to * order.length)))
      .map(([, at]) => seen[at] as Seen);
  const [low, high] = [mean_of(part(LOW)), mean_of(part(HIGH))];
  const middle = (channel: 0 | 1 | 2) =>
    Math.min(1, high[channel] + TO_MIDDLE * (high[channel] - low[channel]));
  const clean = part([LOW[0], HIGH[1]]);
  const [x, y] = centre_of(region);
  return {
    code: [middle(0), middle(1), middle(2)],
    at: [x / pixels.width - 0.5, (y - pixels.height / 2) / pixels.width],
    pixels: seen.length,
    burnt: share(clean, (code) => code >= BURNT),
    black: share(clean, (code) => code <= BLACK),
    grain: grain_of(seen),
    bleed: bleed_of(seen),
  };
}

interface Seen {
  readonly code: readonly [number, number, number];
  /** How far out it is, along and down: 0 in the middle, 1 at the edge of what is looked at. */
  readonly out: readonly [along: number, down: number];
  /** Its right neighbour's green, if that is in the region too. */
  readonly beside: number | undefined;
}

function seen_in(region: Region, { width, height, data }: Pixels): Seen[] {
  const [a, b, c, d] = corners_of(region);
  const along = (p: Point, q: Point) => Math.hypot(q[0] - p[0], q[1] - p[1]);
  const points = (length: number) =>
    Math.max(1, Math.min(MOST_ALONG, Math.floor(length * (1 - 2 * EDGE))));
  const columns = points(Math.min(along(a, b), along(d, c)));
  const rows = points(Math.min(along(a, d), along(b, c)));
  const seen: Seen[] = [];
  for (let row = 0; row < rows; row += 1) {
    const v = EDGE + ((1 - 2 * EDGE) * (row + 0.5)) / rows;
    let before: Seen | undefined;
    for (let column = 0; column < columns; column += 1) {
      const u = EDGE + ((1 - 2 * EDGE) * (column + 0.5)) / columns;
      const x = between(between(a[0], b[0], u), between(d[0], c[0], u), v);
      const y = between(between(a[1], b[1], u), between(d[1], c[1], u), v);
      const from = 4 * (clamp(y, height) * width + clamp(x, width));
      const [r = 0, g = 0, b_ = 0] = data.subarray(from, from + 3);
      const far = (share: number) => Math.abs(share - 0.5) / (0.5 - EDGE);
      const out = [far(u), far(v)] as const;
      const one = { code: [r, g, b_] as const, out, beside: before?.code[1] };
      seen.push(one);
      before = one;
    }
  }
  return seen;
}

const between = (from: number, to: number, share: number) => from + (to - from) * share;
const clamp = (at: number, size: number) => Math.min(size - 1, Math.max(0, Math.floor(at)));

function centre_of(region: Region): Point {
  const corners = corners_of(region);
  const mean = (axis: 0 | 1) => corners.reduce((sum, corner) => sum + corner[axis], 0) / 4;
  return [mean(0), mean(1)];
}

function luma({ code: [r, g, b] }: Seen): number {
  return 0.3 * r + 0.6 * g + 0.1 * b;
}

function mean_of(part: readonly Seen[]): [number, number, number] {
  const mean = (channel: 0 | 1 | 2) =>
    part.reduce((sum, { code }) => sum + code[channel], 0) / (255 * part.length);
  return [mean(0), mean(1), mean(2)];
}

function share(part: readonly Seen[], at_end: (code: number) => boolean): number {
  return part.filter(({ code }) => code.some(at_end)).length / part.length;
}

/** The step from pixel to pixel that four in five are under, as the deviation of one pixel. */
function grain_of(seen: readonly Seen[]): number {
  const steps = seen.flatMap(({ code, beside }) =>
    beside === undefined ? [] : [Math.abs(code[1] - beside)],
  );
  return quantile(steps, 0.8) / (1.812 * 255);
}

/**
 * Compares the middle of a region with its borders, sideways and down. A soft picture bleeds on both
 * sides and a band of gloss on one, so the lesser of the two is told.
 */
function bleed_of(seen: readonly Seen[]): number {
  return Math.min(
    ...([0, 1] as const).map((axis) => {
      const inner = seen.filter(({ out }) => out[axis] < 0.4);
      const outer = seen.filter(({ out }) => out[axis] > 0.85);
      const apart = ([0, 1, 2] as const).map((channel) => {
        const of = (part: readonly Seen[]) => median(part.map(({ code }) => code[channel]));
        return Math.abs(of(inner) - of(outer)) / 255;
      });
      return Math.max(...apart);
    }),
  );
}

function quantile(of: readonly number[], share: number): number {
  const order = [...of].sort((a, b) => a - b);
  return order[Math.floor(share * (order.length - 1))] ?? 0;
}

/** Returns the middle of some numbers, 0 of none. */
export const median = (of: readonly number[]) => quantile(of, 0.5);
