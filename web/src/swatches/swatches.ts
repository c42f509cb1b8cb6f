// The swatches of a line: planned, painted against a clock, rinsed, dried and read.
import type { CalibrationRequest, Mix, Product, SwatchPlanReply } from "../api/shapes";
import { at_now } from "../device/when";
import { all, author_here, one } from "../records/read";
import type { Entity } from "../records/shapes";
import { change, create } from "../records/write";
import { by_label, shades_of } from "../shelf/shelf";

export type Plan = Entity<"swatch_plan">;
export type Swatch = Entity<"swatch">;
type Row = NonNullable<Plan["rows"]>[number];
type Lab = [number, number, number];

/** A planned swatch, with what has happened to it. */
export interface Planned {
  plan: Plan;
  row: Row;
  on_ms?: number | undefined;
  rinsed_ms?: number | undefined;
  /** Once it was read. */
  swatch?: Swatch | undefined;
}

const A_MINUTE_MS = 60_000;

/** Returns all shades of a line as their labels have them, clears included. */
export function labelled(line: Entity<"line">): Product[] {
  return shades_of(line.id).flatMap((shade) => by_label(line, shade) ?? []);
}

/** Returns the swatches that were read with a line's products; a corrected one counts once. */
export function read_swatches(line: string): readonly Swatch[] {
  const here = new Set(shades_of(line).map(({ id }) => id));
  const swatches = all("swatch").value;
  const corrected = new Set(swatches.map(({ corrects }) => corrects));
  return swatches.filter(
    ({ id, mix, after }) =>
      after && mix && !corrected.has(id) && mix.parts.some(({ product }) => here.has(product)),
  );
}

/** Returns what was planned for a line, the latest plan last. */
export function planned_swatches(line: string): readonly Planned[] {
  const read = read_swatches(line);
  return all("swatch_plan")
    .value.filter((plan) => plan.line === line)
    .flatMap((plan) =>
      (plan.rows ?? []).map((row) => {
        const { on_at, rinsed_at } = plan.painted?.[row.code] ?? {};
        return {
          ...{ plan, row },
          on_ms: on_at ? Date.parse(on_at) : undefined,
          rinsed_ms: rinsed_at ? Date.parse(rinsed_at) : undefined,
          swatch: read.find(({ plan: of, code }) => of === plan.id && code === row.code),
        };
      }),
    );
}

/** Returns the whole minutes a swatch was on, its planned ones while no clock was used. */
export function minutes_on({ row, on_ms, rinsed_ms }: Planned): number {
  if (on_ms === undefined || rinsed_ms === undefined) return row.mix.minutes;
  return Math.round((rinsed_ms - on_ms) / A_MINUTE_MS);
}

/** Returns the products of a mix that are known here, each with its grams. */
function tubes_in(mix: Mix, products: readonly Product[]): (Product & { grams: number })[] {
  return mix.parts.flatMap(({ product, grams }) => {
    const known = products.find(({ id }) => id === product);
    return known ? [{ ...known, grams }] : [];
  });
}

/** Returns the longest that the products of a mix may stay on, by their leaflets. */
export function most_minutes(mix: Mix, products: readonly Product[]): number {
  return Math.min(...tubes_in(mix, products).map(({ window }) => window.max));
}

/** Returns a swatch's developer: as planned, else the leaflets' ratio at their lowest strength. */
export function developer_of(
  mix: Mix,
  products: readonly Product[],
): { percent: number; grams: number } {
  if (mix.developer) return mix.developer;
  const parts = tubes_in(mix, products);
  const allowed = parts
    .map(({ developer_percent = [] }) => developer_percent)
    .reduce(
      (both, each) => both.filter((percent) => each.includes(percent)),
      parts[0]?.developer_percent ?? [],
    );
  return {
    percent: allowed.length > 0 ? Math.min(...allowed) : 0,
    grams: parts.reduce((sum, { grams, mix_ratio = 0 }) => sum + grams * (mix_ratio ?? 0), 0),
  };
}

/** Keeps a plan; its codes go on from the line's last one, so that no two labels are alike. */
export async function keep_plan(
  line: Entity<"line">,
  { swatches }: SwatchPlanReply,
): Promise<void> {
  const taken = planned_swatches(line.id).length;
  const products = labelled(line);
  const used = new Set(swatches.flatMap(({ mix }) => mix.parts.map(({ product }) => product)));
  await create("swatch_plan", {
    ...{ line: line.id, at: at_now() },
    products: products.filter(({ id }) => used.has(id)),
    rows: swatches.map(({ hair, mix, predicted }, place) => ({
      ...{ code: `${taken + place + 1}`, hair, mix },
      expected: predicted.lab as Lab,
    })),
  });
}

/** Writes down that a swatch was painted just now. */
export function paint({ plan, row }: Planned): Promise<void> {
  const painted = { ...plan.painted, [row.code]: { on_at: at_now(), by: author_here.value } };
  return change("swatch_plan", plan.id, { painted }, `Swatch ${row.code} painted.`);
}

/** Writes down that it was rinsed just now. */
export function rinse({ plan, row }: Planned): Promise<void> {
  const begun = plan.painted?.[row.code];
  if (!begun) return Promise.resolve();
  const painted = { ...plan.painted, [row.code]: { ...begun, rinsed_at: at_now() } };
  return change("swatch_plan", plan.id, { painted }, `Swatch ${row.code} rinsed.`);
}

/** How a colour was read. */
export type Source = "instrument" | "eye";

/** Keeps the dry reading of a planned swatch, and that of its bare end where there is one. */
export async function keep_reading(
  planned: Planned,
  { lab, bare, source }: { lab: Lab; bare: Lab | null; source: Source },
): Promise<void> {
  const { plan, row, swatch } = planned;
  const minute = minutes_on(planned);
  await create("swatch", {
    ...{ plan: plan.id, code: row.code, at: at_now() },
    hair: { ...row.hair, ...(bare && { reading: { lab: bare, state: "dry" as const } }) },
    mix: { ...row.mix, minutes: minute },
    after: { minute, where: "dried", source, lab },
    ...(swatch && { corrects: swatch.id }),
  });
}

/** Returns the question what a line's swatches teach; null while none was read. */
export function question_of(line: Entity<"line">): CalibrationRequest | null {
  const swatches = read_swatches(line.id).flatMap(({ id, hair, mix, after, group }) =>
    hair && mix && after
      ? [{ id, hair, mix, after: { ...after, where: "dried" as const }, ...(group && { group }) }]
      : [],
  );
  if (swatches.length === 0) return null;
  const products = labelled(line);
  const here = new Set(products.map(({ id }) => id));
  // A swatch may be mixed with another line's tube: it teaches both.
  const others = swatches
    .flatMap(({ mix }) => mix.parts.map(({ product }) => product))
    .filter((id, place, ids) => !here.has(id) && ids.indexOf(id) === place)
    .flatMap((id) => {
      const shade = one("product", id).value;
      return (shade && by_label(one("line", shade.line ?? "").value, shade)) ?? [];
    });
  return { products: [...products, ...others], swatches };
}
