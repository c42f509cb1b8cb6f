// Turns the entries into questions: the contract's shapes, complete or not at all.
import type { Hair, Limits, Mix, PredictionRequest, Product, Wish } from "../api/shapes";
import type { HairEntry, LabEntry, WishEntry } from "../records/entered";

type Lab = [number, number, number];

/** Returns the three numbers of a reading, or null while one is missing. */
export function lab_of(entry: LabEntry): Lab | null {
  const numbers = entry.map((text) => (text.trim() === "" ? Number.NaN : Number(text)));
  return numbers.every(Number.isFinite) ? (numbers as Lab) : null;
}

/** Returns the hair for a question, or null while its reading is incomplete. */
export function hair_of(entry: HairEntry): Hair | null {
  const hair: Hair = {
    porosity: entry.porosity,
    damp: entry.damp,
    white_share: entry.white_share,
    lifted: entry.lifted,
    ...(resists(entry) && { white_uptake: entry.white_uptake }),
    also: entry.also.map(({ name, share, ...other }) => ({
      name,
      share,
      hair: { ...other, damp: entry.damp },
    })),
  };
  if (entry.by_reading) {
    const lab = lab_of(entry.reading.lab);
    return lab && { ...hair, reading: { lab, state: entry.reading.state } };
  }
  // Only the proportions of an earlier mix are known, not its grams: any weight gives the same dye.
  const already_on = entry.already_on.map(
    ({ product, minutes }): Mix => ({ parts: [{ product, grams: 40 }], minutes }),
  );
  return { ...hair, level: entry.level, warmth: entry.warmth, already_on };
}

/** Whether there is white hair, and it takes up less than usual. */
function resists({ white_share, white_uptake = 1 }: HairEntry): boolean {
  return white_share > 0 && white_uptake !== 1;
}

/** Returns the wish for a question, or null while its words or its reading are incomplete. */
export function wish_of({ by_reading, level, tone, lab, tolerance }: WishEntry): Wish | null {
  if (!by_reading) return tone.length > 0 ? { level, tone, tolerance } : null;
  const reading = lab_of(lab);
  return reading && { lab: reading, tolerance };
}

const STRONGEST_PERCENT = 12;

/** Returns the strengths of developer that some leaflet on the shelf allows, the weakest first. */
export function allowed_strengths(shelf: readonly Product[]): number[] {
  const all = shelf.flatMap(({ developer_percent }) => developer_percent);
  return [...new Set(all)].filter((p) => p > 0 && p <= STRONGEST_PERCENT).sort((a, b) => a - b);
}

/**
 * Returns the limits for so much colour: steps that divide it, coarser for a large bowl. A strength
 * that no leaflet on the shelf allows any more limits nothing.
 */
export function limits_of(
  {
    total_g,
    max_products,
    developer_percent = 0,
  }: { total_g: number; max_products: number; developer_percent?: number },
  shelf: readonly Product[] = [],
): Limits {
  return {
    total_g,
    max_products,
    step_g: total_g > 60 ? 10 : 5,
    ...(allowed_strengths(shelf).includes(developer_percent) && { developer_percent }),
  };
}

const NOTHING: Product = {
  id: "nothing",
  name: "nothing",
  line: "nothing",
  class: "neutral_demi",
  level: 10,
  tone: ["clear"],
  developer_percent: [1.9],
  window: { min: 0, max: 1 },
};

/** Returns the question how bare hair looks, wet (wiped) and dry. */
export function bare_request(hair: Hair, shelf: readonly Product[]): PredictionRequest {
  const spoken_of = new Set(hair.already_on?.flatMap(({ parts }) => parts.map((p) => p.product)));
  return {
    hair: { ...hair, also: [] },
    mix: { parts: [{ product: NOTHING.id, grams: 40 }], minutes: 0 },
    products: [NOTHING, ...shelf.filter(({ id }) => spoken_of.has(id))],
    minutes: [0],
  };
}
