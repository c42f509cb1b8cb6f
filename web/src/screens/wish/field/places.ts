// Where wishes lie on the field: levels down the side, tones from cooler to warmer across.
import { difference, lab_of_hex } from "../../../colour";
import { LEVELS, wish_hex } from "../../../references";

/** The tones of each field, the coolest first. That ash is cool and gold warm is common practice. */
export const FIELDS = {
  ashier: ["blue", "silver", "ash"],
  even: ["smoke", "pearl", "beige", "natural", "gold"],
  rosier: ["violet", "rose", "copper", "red"],
} as const satisfies Record<string, readonly string[]>;
export type FieldName = keyof typeof FIELDS;
export type Tones = readonly string[];

/** A place that can be wished for: a level, and a stop among the tones and between them. */
export interface Spot {
  level: number;
  stop: number;
}

const ROWS = 7;
const ABOVE_ROWS = 2;
const HAIR_UNSAID = 9.5;

/** Returns the levels a field shows, the lightest first: around the hair, and the wish among them. */
export function rows_around(hair: number | undefined, wish: number): readonly number[] {
  const last = LEVELS.length - 1;
  const lightest = Math.max(place_of(hair ?? HAIR_UNSAID) + ABOVE_ROWS, place_of(wish));
  const top = Math.min(last, lightest, place_of(wish) + ROWS - 1);
  const from = Math.max(0, Math.min(top, last) - ROWS + 1);
  return LEVELS.slice(from, from + ROWS).toReversed();
}

function place_of(level: number): number {
  let nearest = 0;
  LEVELS.forEach((each, at) => {
    if (Math.abs(each - level) < Math.abs((LEVELS[nearest] ?? 0) - level)) nearest = at;
  });
  return nearest;
}

/** Returns how many places there are across: each tone, and one between any two. */
export function stops_of(tones: Tones): number {
  return 2 * tones.length - 1;
}

/** Returns the words wished for at a stop: a tone, or the warmer of two and the cooler. */
export function tones_at(tones: Tones, stop: number): string[] {
  const [cooler, warmer] = [tones[Math.floor(stop / 2)], tones[Math.ceil(stop / 2)]];
  if (!cooler || !warmer) return [];
  return cooler === warmer ? [cooler] : [warmer, cooler];
}

/** Returns where a wish lies across, or undefined if its first word is of another field. */
export function stop_of(tones: Tones, [first, second]: readonly string[]): number | undefined {
  const at = first ? tones.indexOf(first) : -1;
  if (at < 0) return undefined;
  const beside = second ? tones.indexOf(second) : -1;
  return beside >= 0 && Math.abs(at - beside) === 1 ? at + beside : 2 * at;
}

/** Returns the field that a wish is on: the even one until there is a wish. */
export function field_of(wish: readonly string[]): FieldName {
  const names = Object.keys(FIELDS) as FieldName[];
  return names.find((name) => stop_of(FIELDS[name], wish) !== undefined) ?? "even";
}

/** Returns the place under a point, both given as shares of the field from its upper left. */
export function spot_at(
  x: number,
  y: number,
  rows: readonly number[],
  tones: Tones,
): Spot | undefined {
  const level = rows[between(Math.floor(y * rows.length), 0, rows.length - 1)];
  const stop = between(Math.round(2 * x * tones.length - 1), 0, stops_of(tones) - 1);
  return level === undefined ? undefined : { level, stop };
}

/** Returns how far across a stop lies, as a share of the field. */
export function across(stop: number, tones: Tones): number {
  return (stop + 1) / (2 * tones.length);
}

/** Returns the place so many half levels lighter and stops warmer, or undefined past the edge. */
export function moved(
  { level, stop }: Spot,
  { lighter = 0, warmer = 0 }: { lighter?: number; warmer?: number },
  tones: Tones,
): Spot | undefined {
  const to = LEVELS[place_of(level) + lighter];
  const across_to = stop + warmer;
  if (to === undefined || across_to < 0 || across_to >= stops_of(tones)) return undefined;
  return { level: to, stop: across_to };
}

/** Returns how far across the hair's own colour lies: nearest the tone that it looks most like. */
export function hair_across(hex: string, level: number, tones: Tones): number | undefined {
  const hair = lab_of_hex(hex);
  const row = LEVELS[place_of(level)];
  if (!hair || row === undefined) return undefined;
  const apart = tones.map((tone) => {
    const lab = lab_of_hex(wish_hex(row, tone) ?? "");
    return lab ? difference(hair, lab) : Number.POSITIVE_INFINITY;
  });
  const nearest = apart.indexOf(Math.min(...apart));
  const beside = (apart[nearest - 1] ?? Infinity) < (apart[nearest + 1] ?? Infinity) ? -1 : 1;
  const [near, far] = [apart[nearest] ?? 0, apart[nearest + beside] ?? Infinity];
  // Halfway to the next tone where it looks as much like one as like the other.
  const towards = Number.isFinite(far) && near + far > 0 ? near / (near + far) : 0;
  return across(2 * nearest + beside * 2 * towards, tones);
}

function between(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}
