// What was entered for one bowl, as a record keeps it: enough to ask the same again.

export type LabEntry = [string, string, string];
export type State = "dry" | "damp" | "wet";

export interface HairEntry {
  /** How the hair is being looked at while its level is chosen. */
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
  /** How long the hair is; empty while the amount is the one entered. */
  length: string;
  density: string;
  /** How much of the head the zone is, 0 to 1; 0 while nobody has said. */
  share: number;
  /** What was left over the last time; empty while nobody has said. */
  left_over: string;
}

/** Everything entered for one bowl. */
export interface Entered {
  hair: HairEntry;
  wish: WishEntry;
  amounts: AmountsEntry;
  chosen_mix: string;
}
