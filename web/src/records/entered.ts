// The entries for one bowl, as a record keeps them: enough to ask the same again.

export type LabEntry = [string, string, string];
export type State = "dry" | "damp" | "wet";

export interface HairEntry {
  /** How the colourist looks at the hair while choosing its level. */
  seen: "dry" | "wet";
  level: number;
  warmth: number;
  porosity: number;
  damp: number;
  white_share: number;
  lifted: boolean;
  by_reading: boolean;
  reading: { lab: LabEntry; state: State };
  already_on: { product: string; minutes: number }[];
  also: OtherHairEntry[];
}

export interface OtherHairEntry {
  name: string;
  share: number;
  level: number;
  warmth: number;
  porosity: number;
  lifted: boolean;
}

export interface WishEntry {
  by_reading: boolean;
  level: number;
  tone: string[];
  lab: LabEntry;
  tolerance: number;
}

/** How much is mixed, and of how many products. */
export interface AmountsEntry {
  total_g: number;
  max_products: number;
  /** How long the hair is; empty while the entered amount counts. */
  length: string;
  density: string;
  /** How much of the head the zone is, 0 to 1; 0 while nobody has said. */
  share: number;
  /** What was left over last time; empty until somebody says. */
  left_over: string;
}

/** Everything entered for one bowl. */
export interface Entered {
  hair: HairEntry;
  wish: WishEntry;
  amounts: AmountsEntry;
  chosen_mix: string;
}
