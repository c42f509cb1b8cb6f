// What nobody has read from a line's box and leaflet yet: it is asked for, and never filled in.
import type { Entity } from "../records/shapes";

/** Returns what is still missing in a line before its shades can be mixed from; "" for nothing. */
export function missing_words(line: Entity<"line">): string {
  const { name, class: of_class, developer_percent = [], mix_ratio, window } = line;
  if (!name) return "Type the line’s name, as on the box.";
  if (!of_class) return "Now its class. The leaflet says demi or permanent.";
  if (of_class !== "direct") {
    if (developer_percent.length === 0) return "Now the developers its leaflet allows.";
    if (mix_ratio === undefined) return "Now how much developer its leaflet says.";
  }
  if (!window) return "Now the leaflet’s minutes. Shades come next.";
  return "";
}

/** Returns the same in two words for a list, "minutes missing"; "" for nothing. */
export function missing_in_list(line: Entity<"line">): string {
  const { name, class: of_class, developer_percent = [], mix_ratio, window } = line;
  const needs_developer = of_class !== "direct";
  const missing = [
    [!name, "name"],
    [!of_class, "class"],
    [needs_developer && developer_percent.length === 0, "developer"],
    [needs_developer && mix_ratio === undefined, "ratio"],
    [!window, "minutes"],
  ].flatMap(([is_missing, word]) => (is_missing ? [word] : []));
  return missing.length > 0 ? `${missing.join(", ")} missing` : "";
}
