// Why a picture, or a mark on it, is not read: each reason with its place and what to do.

import { difference } from "../colour";
import type { Fit, Known } from "./fit";
import { corners_of, is_inside, median, type RegionColour } from "./region_colour";
import type { Fault, Marks, Pixels, Region, Where, Why } from "./shapes";

/** The shortest side of a mark in pixels: its inner part then has some 60 to look at. */
const LEAST_SIDE = 12;
/** So much of the clean part may lie at an end of the scale. */
const MOST_CLIPPED = 0.05;
// Found on rendered pictures: sharp and clean ones stay under half of each.
const MOST_GRAIN = 0.04;
const MOST_BLEED = 0.008;
/** How far apart the casts of two strips may be: red and blue beside green, as logarithms. */
const MOST_APART = 0.1;
/** The middle difference of a card's patches from what was told, in ΔE00, by the greys alone. */
const MOST_OFF = 16;

/** Returns what is lacking among the marks. */
export function cannot_fit({ strips, to_read }: Marks): Fault[] {
  const faults: Fault[] = [];
  const one_card = strips.length === 1 && strips[0]?.steps.length === 1;
  if (!one_card && (strips.length < 2 || strips.some(({ steps }) => steps.length < 3))) {
    faults.push(
      fault(
        "marks missing",
        { picture: true },
        "Mark two grey strips of at least 3 steps each, or one grey card.",
      ),
    );
  }
  const untold = strips.find(({ steps }) => steps.some(({ reflectance: r }) => !(r > 0 && r <= 1)));
  if (untold) {
    faults.push(
      fault(
        "marks missing",
        { strip: untold.id },
        "A grey step's reflectance must be above 0 and at most 1: 18 % is 0.18.",
      ),
    );
  }
  if (to_read.length === 0) {
    faults.push(fault("marks missing", { picture: true }, "Mark at least one strand to read."));
  }
  return faults;
}

/** Returns why a region cannot be looked at: it lies outside, or is too small. */
export function cannot_see(region: Region, pixels: Pixels, where: Where): Fault | undefined {
  if (!is_inside(region, pixels)) {
    return fault(
      "cut off",
      where,
      `${name_of(where)} is cut off. Take the picture again with all of it in sight.`,
    );
  }
  const [a, b, c, d] = corners_of(region);
  const sides = [
    [a, b],
    [b, c],
    [c, d],
    [d, a],
  ] as const;
  const shortest = Math.min(...sides.map(([p, q]) => Math.hypot(p[0] - q[0], p[1] - q[1])));
  if (!(shortest >= LEAST_SIDE)) {
    return fault(
      "too small",
      where,
      `${name_of(where)} is too small: it needs ${LEAST_SIDE} pixels each way. Go nearer, or mark more of it.`,
    );
  }
  return undefined;
}

/** Returns why the colour of a region tells nothing: clipped or grainy. */
export function colours_off(colour: RegionColour, where: Where): Fault | undefined {
  const name = name_of(where);
  if (colour.burnt > MOST_CLIPPED) {
    return fault(
      "clipped",
      where,
      `${name} is burnt out. Take the picture again, a little darker.`,
    );
  }
  if (colour.black > MOST_CLIPPED) {
    return fault(
      "clipped",
      where,
      `${name} has no light in one colour. Take the picture again, lighter, in daylight.`,
    );
  }
  if (colour.grain > MOST_GRAIN && !is_hair(where)) {
    return fault(
      "grainy",
      where,
      `${name} is too grainy to read. Take the picture again with more light.`,
    );
  }
  return undefined;
}

type StepAt = { readonly strip: string; readonly at: number; readonly reflectance: number };

/** Returns what the greys show to be wrong: steps out of order, a soft picture, mixed light, no card. */
export function lights_off(
  { strips }: Marks,
  steps: readonly StepAt[],
  colours: readonly RegionColour[],
  by_greys: Fit,
  card: readonly Known[],
): Fault | undefined {
  if (median(colours.map(({ bleed }) => bleed)) > MOST_BLEED) {
    return fault(
      "blurred",
      { picture: true },
      "The picture is out of focus, or the marks are beside the steps. Set the marks again, or take it again.",
    );
  }
  for (const { id } of strips) {
    const own = steps
      .map((step, at) => ({ ...step, light: colours[at]?.code[1] ?? 0 }))
      .filter(({ strip }) => strip === id)
      .sort((a, b) => a.reflectance - b.reflectance);
    const wrong = own.find((step, at) => at > 0 && step.light <= (own[at - 1]?.light ?? 0));
    if (wrong) {
      return fault(
        "steps out of order",
        { strip: id, step: wrong.at },
        `Step ${wrong.at + 1} of the ${id} strip should be lighter than the one before. Check which end is dark.`,
      );
    }
  }
  const [left, right] = strips.map(({ id }) => {
    const casts = colours
      .filter((_, at) => steps[at]?.strip === id && (steps[at]?.reflectance ?? 0) > 0.1)
      .map(({ code: [r, g, b] }) => [
        Math.log(linear(r) / linear(g)),
        Math.log(linear(b) / linear(g)),
      ]);
    const mean = (axis: 0 | 1) =>
      casts.reduce((sum, cast) => sum + (cast[axis] ?? 0), 0) / casts.length;
    return [mean(0), mean(1)] as const;
  });
  if (left && right && Math.hypot(left[0] - right[0], left[1] - right[1]) > MOST_APART) {
    return fault(
      "mixed light",
      { picture: true },
      "Lights of two colours fall on the picture. Turn one off, or close the curtain, and take it again.",
    );
  }
  const off = card.map(({ seen, lab }) => difference(by_greys.read(seen).lab, lab));
  if (median(off) > MOST_OFF) {
    return fault(
      "no card",
      { card: true },
      "The patches are not where they are marked, or the card is turned. Mark the card again.",
    );
  }
  return undefined;
}

/** Light of a code by sRGB's own curve (IEC 61966-2-1), kept off nothing. */
function linear(code: number): number {
  return Math.max(1e-4, code > 0.04045 ? ((code + 0.055) / 1.055) ** 2.4 : code / 12.92);
}

const is_hair = (where: Where) => "known" in where || "strand" in where;

function name_of(where: Where): string {
  if ("strip" in where) return `Step ${(where.step ?? 0) + 1} of the ${where.strip} strip`;
  if ("patch" in where) return `Patch ${where.patch + 1} of the card`;
  if ("known" in where) return `The known strand “${where.known}”`;
  if ("strand" in where) return `The strand “${where.strand}”`;
  return "card" in where ? "The card" : "The picture";
}

function fault(why: Why, where: Where, words: string): Fault {
  return { why, where, words };
}
