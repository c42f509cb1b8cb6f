// A measured colour as the screen shows it: as the engine gives its own, for 2° D65.
import { formatHex, modeLab65, modeRgb, useMode } from "culori/fn";

useMode(modeRgb);
useMode(modeLab65);

/** Returns a CIELAB colour as "#rrggbb"; what the screen cannot show is cut to what it can. */
export function hex_of_lab([l, a, b]: readonly number[]): string {
  return formatHex({ mode: "lab65", l: l ?? 0, a: a ?? 0, b: b ?? 0 }) ?? "#000000";
}
