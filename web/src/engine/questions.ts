// The questions the page keeps open.
import { open_question } from "./question";

export const formulas = open_question("formulations");
export const strip = open_question("predictions");
/** The hair as described, with nothing on it. */
export const bare_hair = open_question("predictions");
/** The same mix on other hair, by the name of the what-if. */
export const what_ifs = {
  deeper: open_question("predictions"),
  after_violet: open_question("predictions"),
  more_porous: open_question("predictions"),
  dry_applied: open_question("predictions"),
} as const;
