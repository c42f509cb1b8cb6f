// What swatches taught: worked out again at each reading, put in force and taken back by a tap.
import type { CalibrationReply } from "../api/shapes";
import { at_now } from "../device/when";
import { open_question } from "../engine/question";
import { all, author_here } from "../records/read";
import type { Entity } from "../records/shapes";
import { change, new_id, together } from "../records/write";
import { read_swatches } from "./swatches";

export const planning = open_question("swatch_plans");
export const fitting = open_question("calibrations");

/** Returns the middle of some numbers; undefined of none. */
export function median(numbers: readonly number[]): number | undefined {
  const sorted = [...numbers].sort((a, b) => a - b);
  const [low, high] = [sorted[(sorted.length - 1) >> 1], sorted[sorted.length >> 1]];
  return low === undefined || high === undefined ? undefined : (low + high) / 2;
}

/** Returns a line's calibrations, the latest last. */
export function calibrations_of(line: string): readonly Entity<"calibration">[] {
  return all("calibration").value.filter((each) => each.line === line);
}

/** Keeps what the swatches taught and has every new mix go by it. One undo takes both back. */
export async function put_in_force(line: Entity<"line">, reply: CalibrationReply): Promise<void> {
  const id = new_id();
  const used = reply.fits.filter(({ weight }) => weight > 0).map((fit) => fit.id);
  const error = median(reply.fits.map(({ delta_e_left_out }) => delta_e_left_out));
  const fields = {
    ...{ line: line.id, swatches: used, products: reply.products },
    left_out: reply.fits.filter(({ weight }) => weight === 0).map((fit) => fit.id),
    ...(error !== undefined && { error }),
    ...{ engine_version: reply.engine_version, by: author_here.value, at: at_now() },
  };
  await together(
    [
      { do: "create", kind: "calibration", id, fields },
      { do: "change", kind: "line", id: line.id, fields: { calibration: id } },
    ],
    `${line.name}: mixes go by ${used.length} swatches.`,
  );
}

/** Has every new mix go by an earlier calibration, or by the labels. */
export function go_back(line: Entity<"line">, calibration: string | null): Promise<void> {
  const said = calibration ? "mixes go by earlier swatches" : "mixes go by the labels";
  return change("line", line.id, { calibration }, `${line.name}: ${said}.`);
}

/** Returns whether a calibration was made of just the swatches that are read now. */
export function is_of_all(calibration: Entity<"calibration">): boolean {
  const { line = "", swatches = [], left_out = [] } = calibration;
  const known = new Set([...swatches, ...left_out]);
  const read = read_swatches(line);
  return read.length === known.size && read.every(({ id }) => known.has(id));
}
