// The colourist's entries: the hair, the wish, how much to mix, which mix, which minute.

import { kept_in_window } from "../device/kept";
import type { AmountsEntry, Entered, HairEntry, WishEntry } from "../records/entered";

export type Section = "hair" | "wish" | "safety" | "mix" | "strip" | "result";

/** Hair nothing has been said about yet. */
const NEW_HAIR: HairEntry = {
  seen: "dry",
  level: 10,
  warmth: 1,
  porosity: 0.5,
  damp: 0.6,
  white_share: 0,
  lifted: true,
  by_reading: false,
  reading: { lab: ["", "", ""], state: "dry" },
  already_on: [],
  also: [],
  white_uptake: 1,
};

/** A wish nothing has been said about yet. */
const NEW_WISH: WishEntry = {
  by_reading: false,
  level: 10,
  tone: [],
  lab: ["", "", ""],
  tolerance: 3,
};

/** Stands for a zone of which nobody has said how much of the head it is. */
export const SHARE_UNSAID = 0;

/** How much is mixed, of how many products, until something else is asked for. */
const NEW_AMOUNTS: AmountsEntry = {
  total_g: 60,
  max_products: 3,
  length: "",
  density: "medium",
  share: 1,
  left_over: "",
  developer_percent: 0,
};

export const hair_entry = kept_in_window("hair", NEW_HAIR);
export const wish_entry = kept_in_window("wish", NEW_WISH);
export const amounts = kept_in_window("amounts", NEW_AMOUNTS);

export const NOTHING_ENTERED: Entered = {
  hair: NEW_HAIR,
  wish: NEW_WISH,
  amounts: NEW_AMOUNTS,
  chosen_mix: "",
};

/** The chosen mix, as its parts in JSON; empty while the first of the list counts. */
export const chosen_mix = kept_in_window("chosen_mix", "");
export const strip_minute = kept_in_window("strip_minute", 0);
export const what_ifs_shown = kept_in_window<string[]>("what_ifs", []);

/** Which section is open, and which were: those fold to one line. */
export const open_section = kept_in_window<Section>("open", "hair");
export const reached = kept_in_window<Section[]>("been_in", []);

/** Opens a section, and remembers that it was open. */
export function open(section: Section): void {
  open_section.value = section;
  if (!reached.value.includes(section)) reached.value = [...reached.value, section];
}
