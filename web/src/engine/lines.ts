// The questions the page keeps open.
import { line } from "./line";

export const formulas = line("formulations");
export const strip = line("predictions");
/** The hair as described, with nothing on it. */
export const bare_hair = line("predictions");
/** The same mix on other hair, by the name of the what-if. */
export const what_ifs = {
  deeper: line("predictions"),
  after_violet: line("predictions"),
  more_porous: line("predictions"),
  dry_applied: line("predictions"),
} as const;
