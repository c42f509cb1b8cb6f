// What the salon is called, as a setting that every phone shares.
import { one } from "../records/read";
import { setting_id } from "../records/write";

/** The key of the setting that holds the salon's name. */
export const salon_name_key = "salon_name";

/** Returns the salon's name; empty while nobody has typed it. */
export function salon_name(): string {
  return String(one("setting", setting_id(salon_name_key)).value?.value ?? "");
}
