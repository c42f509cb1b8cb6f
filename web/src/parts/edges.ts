// The two edges of a likely range, in the order they are drawn.
import type { Colour } from "../api/shapes";

/**
 * Returns the screen colours of a range's edges, the cooler (lower b*) first.
 *
 * Sorted by lightness, as they come, they would change sides when two are equally light.
 */
export function cooler_and_warmer({ edges: [one, other] }: Colour["range"]): [string, string] {
  return one.lab[2] <= other.lab[2] ? [one.hex, other.hex] : [other.hex, one.hex];
}
