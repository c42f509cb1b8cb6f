// The entries for one bowl, as a record keeps them: enough to ask the same again.
import type { HairEntry, ReadingEntry } from "./types.generated";

export type {
  AmountsEntry,
  Entered,
  HairEntry,
  OtherHairEntry,
  WishEntry,
} from "./types.generated";
export type LabEntry = ReadingEntry["lab"];
export type State = HairEntry["reading"]["state"];
