// What stands on a visit's record, in words.
import type { Hair, Window, Wish } from "../../api/shapes";
import { date_words } from "../../device/when";
import { level_words, time_of_day } from "../../parts/words";

/** Returns a day with its year, and a time; empty for none. */
export function when(moment: string | undefined): string {
  if (!moment) return "";
  return `${date_words(moment)}, ${time_of_day(Date.parse(moment))}`;
}

/** Returns a value as words: "yes_no_reaction" is "yes no reaction". */
export function plain(value: unknown): string {
  if (value === undefined || value === null) return "";
  const text = typeof value === "string" ? value : JSON.stringify(value);
  return text.replaceAll(/[_-]/g, " ");
}

/** Returns a wish in words: "level 10, pearl beige". */
export function wish_in_words(wish: Wish | undefined): string {
  if (!wish) return "";
  if ("lab" in wish && wish.lab) return `L* a* b* ${wish.lab.join(", ")}`;
  const { level, tone = [] } = wish as { level?: number | null; tone?: string[] };
  return [level ? `level ${level_words(level)}` : "", tone.join(" ")].filter(Boolean).join(", ");
}

const WARMTHS = [
  [0.75, "less warm than usual"],
  [1.25, "usual warmth"],
  [Number.POSITIVE_INFINITY, "warmer than usual"],
] as const;
const POROSITIES = [
  [0.35, "tight"],
  [0.65, "usual porosity"],
  [0.85, "porous"],
  [1, "very porous"],
] as const;

/** Returns hair in words: "level 10, lightened, usual warmth, porous, 30 % white". */
export function hair_in_words(hair: Hair | undefined): string {
  if (!hair) return "";
  const { level, lifted, warmth, porosity, white_share, reading } = hair;
  return [
    level ? `level ${level_words(level)}` : "",
    reading?.lab ? `read as L* a* b* ${reading.lab.join(", ")}` : "",
    lifted === false ? "natural" : "lightened",
    WARMTHS.find(([most]) => (warmth ?? 1) <= most)?.[1],
    POROSITIES.find(([most]) => (porosity ?? 0.5) <= most)?.[1],
    white_share ? `${Math.round(white_share * 100)} % white` : "",
  ]
    .filter(Boolean)
    .join(", ");
}

/** Returns a rinse window in words: "from 13, best 16, by 20 minutes". */
export function window_in_words(window: Window | undefined): string {
  if (!window) return "";
  if ("reason" in window) return window.reason;
  return `from ${window.earliest}, best ${window.best}, by ${window.latest} minutes`;
}

const PROFILES: Record<string, string> = {
  eu: "the European Union",
  uk: "the United Kingdom",
  us: "the United States",
  other: "the strictest of all",
};

/** Returns whose rules held. */
export function rules_in_words(profile: string | undefined): string {
  return profile ? (PROFILES[profile] ?? profile) : "";
}
