// Reads strands from a photo, or says why not: which mark, and what to do.
import type { Lab } from "../colour";
import { cannot_fit, cannot_see, colours_off, lights_off } from "./faults";
import { type Fit, fitted, type Known } from "./fit";
import { colour_of, type RegionColour } from "./region_colour";
import type { Fault, Marks, PhotoReply, Pixels, Reading, Region, Where } from "./shapes";

type Three = readonly [number, number, number];
type Kind = "step" | "patch" | "strand";
interface Told extends Known {
  readonly kind: Kind;
}

/** How far what is told of a region may be off, on each axis: assumptions. */
const TOLD_SD: Record<Kind, number> = { step: 0.4, patch: 0.3, strand: 0.4 };
/** A grey card alone says nothing of how a camera sees colours. */
const GREY_CARD_SD = 4;
// A patch far from all hair in the picture says little of it: it counts less from so many Lab away.
const [NEAR, LESS_FOR_EACH] = [10, 0.1];
// The misses of what was left out in turn, beside so many expected ones, say how sure a reading is.
const EXPECTED_MISSES = 10;
const COUNTS: Record<Kind, number> = { strand: 1, patch: 0.5, step: 0.1 };
const PATCH_COUNTS_WITHIN = 25;

/** Returns the colours of the strands to read, or the reasons why the picture cannot be read. */
export function read_photo(pixels: Pixels, marks: Marks): PhotoReply {
  const seen = new Map<Region, RegionColour>();
  const fault_of = (region: Region, where: Where) => {
    const fault = cannot_see(region, pixels, where);
    if (fault) return fault;
    const colour = colour_of(region, pixels);
    seen.set(region, colour);
    return colours_off(colour, where);
  };

  const steps = marks.strips.flatMap(({ id, steps }) =>
    steps.map((step, at) => ({ ...step, strip: id, at })),
  );
  const left_out: Fault[] = [];
  const refused: Fault[] = [...cannot_fit(marks)];
  for (const { strip, at, region } of steps) {
    const fault = fault_of(region, { strip, step: at });
    if (fault) refused.push(fault);
  }
  const usable = <T extends { region: Region }>(
    all: readonly T[],
    where: (one: T, at: number) => Where,
  ) =>
    all.filter((one, at) => {
      const fault = fault_of(one.region, where(one, at));
      if (fault) left_out.push(fault);
      return !fault;
    });
  const patches = usable(marks.card ?? [], (_, patch) => ({ patch }));
  const strands = usable(marks.known ?? [], ({ id }) => ({ known: id }));
  refused.push(...left_out.filter(({ why }) => why === "cut off"));
  if (marks.card && patches.length * 2 < marks.card.length) {
    refused.push(
      ...left_out
        .filter(({ where }) => "patch" in where && !refused.some((r) => r.where === where))
        .slice(0, 1),
    );
  }
  const [first, ...others] = refused;
  if (first) return { refused: [first, ...others] };

  const told = (kind: Kind, region: Region, lab: Lab): Told => ({
    kind,
    lab,
    sd: TOLD_SD[kind],
    seen: seen_as(seen.get(region) as RegionColour, kind === "strand"),
  });
  const greys = steps.map(({ reflectance, region }) =>
    told("step", region, lab_of_grey(reflectance)),
  );
  const card = patches.map(({ lab, region }) => told("patch", region, lab));
  const known = strands.map(({ lab, region }) => told("strand", region, lab));
  const stray = mean_code(pixels);

  const by_greys = fitted(greys, stray);
  const wrong = lights_off(
    marks,
    steps,
    steps.map(({ region }) => seen.get(region) as RegionColour),
    by_greys,
    card,
  );
  if (wrong) return { refused: [wrong] };

  const not_read: Fault[] = [];
  const to_read = marks.to_read.filter(({ id, region }) => {
    const fault = fault_of(region, { strand: id });
    if (fault) not_read.push(fault);
    return !fault;
  });
  const targets = to_read.map(({ id, region }) => ({
    id,
    seen: seen_as(seen.get(region) as RegionColour, true),
  }));
  const readings = read_all(targets, [...greys, ...card, ...known], stray, steps.length === 1);
  return { read: { readings, not_read, left_out, words: words_of(steps.length, card, known) } };
}

function seen_as({ code, at }: RegionColour, is_hair: boolean) {
  return { code, at, hair: is_hair ? 1 : 0 };
}

function read_all(
  targets: readonly { id: string; seen: Known["seen"] }[],
  all: readonly Told[],
  stray: Three,
  grey_card_only: boolean,
): Reading[] {
  if (targets.length === 0) return [];
  const first = fitted(all, stray);
  const labs = targets.map(({ seen }) => first.read(seen).lab);
  const away = (lab: Lab) => Math.min(...labs.map((other) => distance(lab, other)));
  const weighed = all.map((one) =>
    one.kind === "patch"
      ? { ...one, sd: Math.hypot(one.sd, LESS_FOR_EACH * Math.max(0, away(one.lab) - NEAR)) }
      : one,
  );
  const fit = fitted(weighed, stray);
  const sureness = all.some(({ kind }) => kind !== "step") ? misses(weighed, fit, away) : 1;
  return targets.map(({ id, seen }) => {
    const { lab, sd } = fit.read(seen);
    const only_greys = all.every(({ kind }) => kind === "step");
    const least = only_greys && grey_card_only ? GREY_CARD_SD : 0;
    return { id, lab, sd: Math.max(least, sd * sureness) };
  });
}

/** How far what was left out in turn came out, over what was expected. */
function misses(all: readonly Told[], fit: Fit, away: (lab: Lab) => number): number {
  let [found, expected] = [EXPECTED_MISSES, EXPECTED_MISSES];
  for (const [at, { kind, lab }] of all.entries()) {
    const near = kind === "patch" ? Math.exp(-((away(lab) / PATCH_COUNTS_WITHIN) ** 2) / 2) : 1;
    const counts = COUNTS[kind] * near;
    found += counts * (fit.left_out[at] ?? 0);
    expected += 3 * counts;
  }
  return Math.sqrt(found / expected);
}

function distance(one: Lab, other: Lab): number {
  return Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);
}

function lab_of_grey(reflectance: number): Lab {
  const root =
    reflectance > 216 / 24389 ? Math.cbrt(reflectance) : ((24389 / 27) * reflectance + 16) / 116;
  return [116 * root - 16, 0, 0];
}

/** The mean code of every so many pixels: stray light in the lens is of that colour. */
function mean_code({ data, width }: Pixels): Three {
  const sums = [0, 0, 0];
  // A step that shares no factor with the rows looks at all columns.
  const step = 4 * (width % 97 === 0 ? 101 : 97);
  let count = 0;
  for (let at = 0; at + 2 < data.length; at += step) {
    for (const channel of [0, 1, 2])
      sums[channel] = (sums[channel] ?? 0) + (data[at + channel] ?? 0);
    count += 255;
  }
  return [(sums[0] ?? 0) / count, (sums[1] ?? 0) / count, (sums[2] ?? 0) / count];
}

function words_of(steps: number, card: readonly Told[], known: readonly Told[]): string {
  const rests = [
    card.length > 0 ? `${card.length} patches` : "",
    known.length > 0 ? `${known.length} known strand${known.length > 1 ? "s" : ""}` : "",
  ].filter(Boolean);
  if (rests.length > 0) return `Read by the greys and ${rests.join(" and ")}.`;
  return steps === 1
    ? "Read by one grey card alone, which is worth about 4 ΔE. Put a strand you know into the picture."
    : "Read by the greys alone: colours may be well off. Put a strand you know into the picture.";
}
