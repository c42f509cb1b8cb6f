// Finds what a camera and a lamp did from all that is known in the picture, and reads by it.
//
// Each known region says what its colour should come to. The settings that fit best are found by
// damped Gauss–Newton steps (Levenberg–Marquardt), pulled towards what is usual. A camera's channels
// are not an eye's, so similar colours come out wrong alike: a smooth remainder (a Gaussian process
// over Lab) carries what known strands show over to strands of a like colour.
import { difference, type Lab } from "../colour";
import { cholesky, dot, forward, gram, type Matrix, solve } from "./algebra";
import {
  BEND_STEP_SD,
  BENDS,
  EXPECTED,
  lab_at,
  PRIOR_SD,
  type Seen,
  type Settings,
} from "./camera";

type Three = readonly [number, number, number];
export interface Known {
  readonly seen: Seen;
  readonly lab: Lab;
  /** How far what is told of it, and its pixels, may be off, on each axis. */
  readonly sd: number;
}

/**
 * The remainder on L*, and on a* and b* per unit of `wide`: its smooth part, the part that is each
 * colour's own, and over how much of Lab the smooth part is alike. All are assumptions.
 */

const SMOOTH_SD = [0.4, 1.2, 1.2] as const;
const OWN_SD = [0.15, 0.5, 0.5] as const;
const ALIKE_OVER = 22;
const [MOST_STEPS, ENOUGH] = [40, 1e-6];
/** Readings that disagree with all others count less: as under Student's t of so many degrees. */
const DEGREES = 4;
const STEP = 1e-5;

export interface Fit {
  /** Returns Lab of what is seen and its standard deviation on each axis, in ΔE00. */
  read(seen: Seen): { lab: Lab; sd: number };
  /** For each known region left out: its squared miss over what was expected; 3 is usual. */
  readonly left_out: readonly number[];
  /** What each known region comes to, in Lab, without the remainder. */
  readonly labs: readonly Lab[];
}

/** Fits all that is known. `stray` is the picture's mean code. */
export function fitted(known: readonly Known[], stray: Three): Fit {
  let inflated = known.map(() => 1);
  let settings = EXPECTED;
  let found: Around | undefined;
  for (let round = 0; round < 3; round += 1) {
    const lowers = AXES.map((axis) => cholesky(likeness(known, inflated, axis)));
    settings = best(known, stray, lowers, settings);
    found = around(known, stray, lowers, settings);
    const misses = found.left_out;
    inflated = known.map((_, at) => Math.max(1, (DEGREES + (misses[at] ?? 0) / 3) / (DEGREES + 1)));
  }
  const { lowers, left_out, covariance, residuals, slopes } = found as Around;
  const pulls = residuals.map((axis, at) => solve(lowers[at] as Matrix, axis));
  return {
    left_out,
    labs: known.map(({ seen }) => lab_at(settings, seen, stray)),
    read(seen) {
      const lab = lab_at(settings, seen, stray);
      const steep = slopes_at(settings, seen, stray);
      let variance = 0;
      const read = lab.map((value, at) => {
        const axis = at as 0 | 1 | 2;
        const like = known.map((one) => alike(one.lab, lab, axis));
        const carried = solve(lowers[axis] as Matrix, like);
        const own = alike(lab, lab, axis) + own_variance(lab, axis) - dot(like, carried);
        const row = (steep[axis] as number[]).map(
          (slope, at) =>
            slope -
            dot(
              carried,
              (slopes[axis] as Matrix).map((r) => r[at] as number),
            ),
        );
        variance += (dot(row, solve(covariance, row)) + own) * visible(lab, axis) ** 2;
        return value + dot(like, pulls[axis] as number[]);
      });
      return { lab: read as unknown as Lab, sd: Math.sqrt(variance / 3) };
    },
  };
}

interface Around {
  lowers: readonly Matrix[];
  /** Of each axis: known less fitted. */
  residuals: number[][];
  /** Of each axis, a row for each known region: how its colour moves with each setting. */
  slopes: Matrix[];
  /** The triangle of the settings' information; to solve by it is to multiply by their covariance. */
  covariance: Matrix;
  left_out: number[];
}

const AXES = [0, 1, 2] as const;

/** Colours far from grey are wrong by more, and it is seen less. */
const wide = ([, a, b]: Lab) => 1 + 0.03 * Math.hypot(a, b);
const scale = (lab: Lab, axis: 0 | 1 | 2) => (axis === 0 ? 1 : wide(lab));

/** How much of the remainder two colours share on an axis. */
function alike(one: Lab, other: Lab, axis: 0 | 1 | 2): number {
  const apart =
    AXES.reduce<number>((sum, at) => sum + (one[at] - other[at]) ** 2, 0) / ALIKE_OVER ** 2;
  return SMOOTH_SD[axis] ** 2 * scale(one, axis) * scale(other, axis) * Math.exp(-apart / 2);
}

const own_variance = (lab: Lab, axis: 0 | 1 | 2) => (OWN_SD[axis] * scale(lab, axis)) ** 2;

/** Returns ΔE00 for each unit moved along an axis. */
function visible(lab: Lab, axis: 0 | 1 | 2): number {
  const moved = lab.map((value, at) => (at === axis ? value + 0.1 : value)) as unknown as Lab;
  return difference(lab, moved) / 0.1;
}

function likeness(known: readonly Known[], inflated: readonly number[], axis: 0 | 1 | 2): Matrix {
  return known.map(({ lab, sd }, i) =>
    known.map(
      (other, j) =>
        alike(lab, other.lab, axis) +
        (i === j ? (sd ** 2 + own_variance(lab, axis)) * (inflated[i] as number) : 0),
    ),
  );
}

/** Returns what is left of each known colour, axis by axis. */
function residuals_of(known: readonly Known[], settings: Settings, stray: Three): number[][] {
  const fit = known.map(({ seen }) => lab_at(settings, seen, stray));
  return AXES.map((axis) => known.map(({ lab }, at) => lab[axis] - (fit[at] as Lab)[axis]));
}

function slopes_at(settings: Settings, seen: Seen, stray: Three): Matrix {
  const here = lab_at(settings, seen, stray);
  const rows: Matrix = [[], [], []];
  for (let at = 0; at < settings.length; at += 1) {
    const moved = lab_at(settings.with(at, (settings[at] as number) + STEP), seen, stray);
    for (const axis of AXES) rows[axis]?.push((moved[axis] - here[axis]) / STEP);
  }
  return rows;
}

/** The pulls towards what is usual, as rows and what is left of each. */
function usual(settings: Settings): { rows: Matrix; left: number[] } {
  const rows: Matrix = settings.map((_, at) =>
    settings.map((_, other) => (other === at ? 1 / (PRIOR_SD[at] as number) : 0)),
  );
  const left = settings.map(
    (value, at) => ((EXPECTED[at] as number) - value) / (PRIOR_SD[at] as number),
  );
  for (let at = 1; at < BENDS; at += 1) {
    rows.push(
      settings.map((_, other) => (other === at ? 1 : other === at - 1 ? -1 : 0) / BEND_STEP_SD),
    );
    left.push(-((settings[at] as number) - (settings[at - 1] as number)) / BEND_STEP_SD);
  }
  return { rows, left };
}

/** Returns all rows of the least-squares problem in deviations, and what is left of each. */
function problem(
  known: readonly Known[],
  stray: Three,
  lowers: readonly Matrix[],
  settings: Settings,
) {
  const slopes: Matrix[] = [[], [], []];
  for (const { seen } of known) {
    const steep = slopes_at(settings, seen, stray);
    for (const axis of AXES) slopes[axis]?.push(steep[axis] as number[]);
  }
  const residuals = residuals_of(known, settings, stray);
  const { rows, left } = usual(settings);
  for (const axis of AXES) {
    const columns = settings.map((_, at) =>
      forward(
        lowers[axis] as Matrix,
        (slopes[axis] as Matrix).map((row) => row[at] as number),
      ),
    );
    for (const at of known.keys()) rows.push(columns.map((column) => column[at] as number));
    left.push(...forward(lowers[axis] as Matrix, residuals[axis] as number[]));
  }
  return { rows, left, slopes, residuals };
}

function cost(
  known: readonly Known[],
  stray: Three,
  lowers: readonly Matrix[],
  settings: Settings,
): number {
  const whitened = residuals_of(known, settings, stray).flatMap((axis, at) =>
    forward(lowers[at] as Matrix, axis),
  );
  const { left } = usual(settings);
  return dot(whitened, whitened) + dot(left, left);
}

function best(
  known: readonly Known[],
  stray: Three,
  lowers: readonly Matrix[],
  from: Settings,
): Settings {
  let [settings, damping] = [from, 1e-2];
  let now = cost(known, stray, lowers, settings);
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const { rows, left } = problem(known, stray, lowers, settings);
    const information = gram(rows, settings.length);
    const towards = settings.map((_, at) =>
      rows.reduce((sum, row, i) => sum + (row[at] as number) * (left[i] as number), 0),
    );
    let better = false;
    while (!better && damping < 1e6) {
      const damped = information.map((row, at) =>
        row.with(at, (row[at] as number) * (1 + damping)),
      );
      const moves = solve(cholesky(damped), towards);
      const tried = settings.map((value, at) => value + (moves[at] as number));
      const then = cost(known, stray, lowers, tried);
      better = then < now;
      damping *= better ? 0.2 : 8;
      if (better) {
        const gained = now - then;
        [settings, now] = [tried, then];
        if (gained < ENOUGH * now) return settings;
      }
    }
    if (!better) return settings;
  }
  return settings;
}

/** Returns the fit's surroundings: how sure the settings are, and each region left out in turn. */
function around(
  known: readonly Known[],
  stray: Three,
  lowers: readonly Matrix[],
  settings: Settings,
): Around {
  const { rows, slopes, residuals } = problem(known, stray, lowers, settings);
  const covariance = cholesky(gram(rows, settings.length));
  // Leaving a region out moves the fit as its block of the inverse covariance says: for what is
  // linear this is the very same as fitting again without it (Rasmussen & Williams, eqs 5.10–5.12).
  const pulls = residuals.map((axis, at) => solve(lowers[at] as Matrix, axis));
  const spread = AXES.map((axis) =>
    settings.map((_, at) =>
      solve(
        lowers[axis] as Matrix,
        (slopes[axis] as Matrix).map((row) => row[at] as number),
      ),
    ),
  );
  const left_out = known.map((_, i) => {
    const ones = lowers.map((lower) =>
      forward(
        lower,
        known.map((_, at) => (at === i ? 1 : 0)),
      ),
    );
    const rows_of = AXES.map((axis) =>
      forward(
        covariance,
        (spread[axis] as Matrix).map((column) => column[i] as number),
      ),
    );
    const block = AXES.map((a) =>
      AXES.map(
        (b) =>
          (a === b ? dot(ones[a] as number[], ones[a] as number[]) : 0) -
          dot(rows_of[a] as number[], rows_of[b] as number[]),
      ),
    );
    const pull = AXES.map((axis) => (pulls[axis] as number[])[i] as number);
    return dot(pull, solve(cholesky(block), pull));
  });
  return { lowers, residuals, slopes, covariance, left_out };
}
