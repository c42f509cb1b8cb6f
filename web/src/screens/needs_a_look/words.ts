// A record that needs a look, in words.

import { date_words } from "../../device/when";
import { time_of_day } from "../../parts/words";
import type { Write } from "../../records/fold";
import type { Entity } from "../../records/shapes";
import { who_words } from "../../salon/who";
import { mix_words } from "../../shelf/shelf";

/** Returns a field in words: "in stock", "legend: V". */
export function field_words(field: string): string {
  return field.replaceAll("_", " ").replace(".", ": ");
}

type Fields = Record<string, unknown>;
type Mix = NonNullable<Entity<"zone">["mix"]>;

/** Returns a value in words: "no", "pearl, violet". */
export function value_words(v: unknown): string {
  if (v === null || v === "") return "nothing";
  if (typeof v === "boolean") return v ? "yes" : "no";
  if (typeof v === "string") return v.replaceAll("_", " ");
  if (Array.isArray(v) && v.every((part) => typeof part === "string")) return v.join(", ");
  const { words, parts, kind, grams, ...rest } = (v ?? {}) as Fields;
  // A mix and a lightener are named without their grams: something may hold the client.
  if (Array.isArray(parts)) return `${mix_words(v as Mix)}, ${(v as Mix).minutes} min`;
  if (typeof grams === "number") return String(kind ?? rest.name ?? "other grams");
  // An answer is kept with its question; its words are the answer.
  return typeof words === "string" ? words : JSON.stringify(v);
}

/** Returns who wrote it and when: "Ana’s phone, Sat 28 Nov, 14:02". */
export function who_and_when({ by, eff, clock }: Write): string {
  const time = eff.slice(0, 24);
  const marked = clock === "off" ? " by a wrong clock" : "";
  return `${who_words(by)}, ${date_words(time)}, ${time_of_day(Date.parse(time))}${marked}`;
}
