// What a photo is read from, and what comes of it.
import type { Lab } from "../colour";

/** A picture's pixels: sRGB, 8 bits, RGBA, row by row from the top left. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray | Uint8Array;
}

export type Point = readonly [x: number, y: number];
/** A box or four corners in order round the edge, in pixels of the picture. */
export type Region =
  | { readonly x: number; readonly y: number; readonly width: number; readonly height: number }
  | { readonly corners: readonly [Point, Point, Point, Point] };

export interface Step {
  /** How much light the grey gives back, above 0 to 1. */
  readonly reflectance: number;
  readonly region: Region;
}
export interface Strip {
  readonly id: string;
  readonly steps: readonly Step[];
}
export interface Patch {
  readonly lab: Lab;
  readonly region: Region;
}
export interface KnownStrand extends Patch {
  readonly id: string;
}
export interface StrandToRead {
  readonly id: string;
  readonly region: Region;
}

/** What was marked on a picture. `strips`: two with steps, or one with a single grey card. */
export interface Marks {
  readonly strips: readonly Strip[];
  readonly card?: readonly Patch[];
  readonly known?: readonly KnownStrand[];
  readonly to_read: readonly StrandToRead[];
}

/** Where a fault lies, in words of the marks. */
export type Where =
  | { readonly strip: string; readonly step?: number }
  | { readonly patch: number }
  | { readonly known: string }
  | { readonly strand: string }
  | { readonly card: true }
  | { readonly picture: true };

export type Why =
  | "clipped"
  | "mixed light"
  | "no card"
  | "cut off"
  | "too small"
  | "blurred"
  | "grainy"
  | "steps out of order"
  | "marks missing";

/** A reason not to read: which mark, and a sentence that says what to do. */
export interface Fault {
  readonly why: Why;
  readonly where: Where;
  readonly words: string;
}

/** A colour read: D65, 10° observer. `sd` is its standard deviation on each axis, in ΔE00. */
export interface Reading {
  readonly id: string;
  readonly lab: Lab;
  readonly sd: number;
}

export interface PhotoReading {
  readonly readings: readonly Reading[];
  /** Strands that were not read, each with its reason. */
  readonly not_read: readonly Fault[];
  /** Patches and known strands that were marked and not used. */
  readonly left_out: readonly Fault[];
  /** What the readings rest on, in a sentence. */
  readonly words: string;
}

export type PhotoReply =
  | { readonly read: PhotoReading }
  | { readonly refused: readonly [Fault, ...Fault[]] };
