// From the code of a pixel and its place to Lab: what a camera and a lamp did, undone.
import type { Lab } from "../colour";
import type { Point } from "./shapes";

/**
 * What is not known of a picture: the camera's curve, the veil of stray light, the fall of the
 * light, the balance, the mixing of channels, and how fibres shade one another.
 */
export type Settings = readonly number[];

type Three = readonly [number, number, number];
/** A code seen at a place. `hair` is 1 for a strand, which shades itself, and else 0. */
export interface Seen {
  readonly code: Three;
  readonly at: Point;
  readonly hair: number;
}

interface Group {
  readonly from: number;
  readonly count: number;
  /** What is expected, and how far it may be off: a standard deviation. Both are assumptions. */
  readonly expected: number;
  readonly sd: number;
}

/** Where the curve's knots are, on the cube root of light as sRGB would have it. */
const KNOTS = [0, 0.2, 0.35, 0.5, 0.65, 0.8, 1] as const;
const groups = {
  bend: { from: 0, count: KNOTS.length - 1, expected: 0, sd: 0.35 },
  veil: { from: 6, count: 1, expected: 0.008, sd: 0.008 },
  slope: { from: 7, count: 2, expected: 0, sd: 0.3 },
  bow: { from: 9, count: 3, expected: 0, sd: 0.15 },
  exposure: { from: 12, count: 1, expected: 0.2, sd: 0.5 },
  balance: { from: 13, count: 2, expected: 0, sd: 0.25 },
  mixing: { from: 15, count: 6, expected: 0, sd: 0.12 },
  shade: { from: 21, count: 1, expected: 0, sd: 0.02 },
} as const satisfies Record<string, Group>;
const COUNT = 22;
/** Neighbouring pieces of a curve bend alike. */
export const BEND_STEP_SD = 0.2;
export const BENDS = groups.bend.count;

const of_group = (read: (group: Group) => number): number[] => {
  const row = new Array<number>(COUNT).fill(0);
  for (const group of Object.values<Group>(groups))
    row.fill(read(group), group.from, group.from + group.count);
  return row;
};
export const EXPECTED: Settings = of_group(({ expected }) => expected);
export const PRIOR_SD: Settings = of_group(({ sd }) => sd);

// Linear sRGB to X/Xn, Y/Yn, Z/Zn: IEC 61966-2-1 over the white of D65; each row adds up to 1. The
// same ratios stand for the 10° observer, as they do where the page draws a Lab (src/colour.ts).
const TO_RATIOS = [
  [0.4338776, 0.3762192, 0.1899032],
  [0.212639, 0.7151687, 0.0721923],
  [0.0177466, 0.1094329, 0.8728205],
] as const;
// CIE 15: where Lab's cube root gives way to a straight line, and its slope.
const LEAST_ROOT = 216 / 24389;
const SLOPE = 24389 / 27;

/** Returns Lab of a code at a place. `stray` is the picture's mean code, which veils it. */
export function lab_at(settings: Settings, { code, at, hair }: Seen, stray: Three): Lab {
  const [x, y] = at;
  const set = (at: number) => settings[at] ?? 0;
  const [gx, gy] = [set(groups.slope.from), set(groups.slope.from + 1)];
  const bow = groups.bow.from;
  const lit = gx * x + gy * y + set(bow) * x * x + set(bow + 1) * y * y + set(bow + 2) * x * y;
  const gain = Math.exp(set(groups.exposure.from) - lit + hair * set(groups.shade.from));
  const veil = set(groups.veil.from);
  const balance = [
    Math.exp(set(groups.balance.from)),
    1,
    Math.exp(set(groups.balance.from + 1)),
  ] as const;
  const clean = (channel: 0 | 1 | 2) =>
    gain *
    balance[channel] *
    (light_of(settings, code[channel]) - veil * light_of(settings, stray[channel]));
  const [r, g, b] = [clean(0), clean(1), clean(2)];
  const mix = groups.mixing.from;
  const red = r + set(mix) * (g - r) + set(mix + 1) * (b - r);
  const green = g + set(mix + 2) * (r - g) + set(mix + 3) * (b - g);
  const blue = b + set(mix + 4) * (r - b) + set(mix + 5) * (g - b);
  const [fx, fy, fz] = TO_RATIOS.map((row) =>
    root(row[0] * red + row[1] * green + row[2] * blue),
  ) as unknown as Three;
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

function root(ratio: number): number {
  return ratio > LEAST_ROOT ? Math.cbrt(ratio) : (SLOPE * ratio + 16) / 116;
}

/** Returns linear light of a code, by sRGB's curve as these settings bend it; it always rises. */
export function light_of(settings: Settings, code: number): number {
  const linear = code > 0.04045 ? ((code + 0.055) / 1.055) ** 2.4 : code / 12.92;
  return bent(settings, Math.cbrt(linear)) ** 3;
}

/** A rising curve through the knots (Fritsch & Carlson's slopes, as the harmonic mean). */
function bent(settings: Settings, x: number): number {
  let y = 0;
  const pieces = KNOTS.length - 1;
  let piece = 0;
  while (piece < pieces - 1 && x > (KNOTS[piece + 1] ?? 1)) {
    y += rise(settings, piece);
    piece += 1;
  }
  const from = KNOTS[piece] ?? 0;
  const width = (KNOTS[piece + 1] ?? 1) - from;
  const steep = (at: number) => Math.exp(settings[at] ?? 0);
  const here = steep(piece);
  const start = piece > 0 ? harmonic(steep(piece - 1), here) : here;
  const end = piece < pieces - 1 ? harmonic(here, steep(piece + 1)) : here;
  const t = (x - from) / width;
  const whole = here * width;
  // Hermite's cubic over the piece
  return (
    y + whole * t * t * (3 - 2 * t) + width * (start * t * (1 - t) ** 2 - end * t * t * (1 - t))
  );
}

function rise(settings: Settings, piece: number): number {
  return Math.exp(settings[piece] ?? 0) * ((KNOTS[piece + 1] ?? 1) - (KNOTS[piece] ?? 0));
}

const harmonic = (a: number, b: number) => (2 * a * b) / (a + b);
