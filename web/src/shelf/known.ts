// What painted swatches taught about a line's tubes. The line names the calibration in force, so one
// tap goes back to the labels, and a formula kept before stays as it was.
import type { Product } from "../api/shapes";
import { one } from "../records/read";
import type { Entity } from "../records/shapes";

/** Returns what is in force for a line; undefined while its tubes are known by their labels. */
export function in_force(line: Entity<"line"> | undefined): Entity<"calibration"> | undefined {
  return line?.calibration ? one("calibration", line.calibration).value : undefined;
}

/** Returns what is known of a product beyond its label: its dyes, its speed, and how surely. */
export function learnt_of(
  line: Entity<"line"> | undefined,
  product: string,
): Pick<Product, "dyes" | "rate" | "known"> {
  const { dyes, rate, known } = in_force(line)?.products?.find(({ id }) => id === product) ?? {};
  return { ...(dyes && { dyes }), ...(rate !== undefined && { rate }), ...(known && { known }) };
}
