// How times and names are said at the basin, where morning and evening are not mixed up.
import { time_of_day } from "../../parts/words";

/** Returns a time of day in figures: "11:14", without the half of the day some phones add. */
export function hour_and_minute(at_ms: number): string {
  return time_of_day(at_ms).replace(/\s?[AP]M$/i, "");
}
