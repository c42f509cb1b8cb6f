// A wish as people write it beside a name: "level 9 pearl", "9½ cool", "beige 8".
import type { WishEntry } from "../records/entered";
import { LEVELS, TONES } from "../references";
import { NOTHING_ENTERED } from "./entries";

const LEVEL = String.raw`(?:(?:level|lvl)\s*|l)?(\d{1,2}(?:[.,]\d|\s?½)?)`;
const TONE = `(${TONES.join("|")})(?:[\\s-]+(?:and\\s+)?(${TONES.join("|")}))?`;
const APART = String.raw`[\s,:-]+`;
/** A level beside a tone; a hyphen or a letter before or after makes it another word. */
const WISH = [`${LEVEL}${APART}${TONE}`, `${TONE}${APART}${LEVEL}`].map(
  (words) => new RegExp(`(?<![\\p{L}\\p{N}.,-])${words}(?![\\p{L}\\p{N}½-]|[.,]\\d)`, "iu"),
);

/** A wish found in a text. */
interface WishFound {
  wish: WishEntry;
  /** The words it was found in. */
  words: string;
}

/** Returns the wish a text names by a level and a tone side by side; undefined without both. */
export function wish_in(text: string): WishFound | undefined {
  for (const [at, pattern] of WISH.entries()) {
    const found = pattern.exec(text);
    if (!found) continue;
    const [words, ...said] = found;
    const [number = "", ...tones] = at === 0 ? said : [said[2], said[0], said[1]];
    const level = Number(number.replace(/\s?½/, ".5").replace(",", "."));
    if (!LEVELS.includes(level)) continue;
    const tone = [...new Set(tones.filter((word) => word !== undefined))];
    const wish = { ...NOTHING_ENTERED.wish, level, tone: tone.map((word) => word.toLowerCase()) };
    return { wish, words };
  }
  return undefined;
}

/** Returns a wish as a person reads and corrects it: "level 9.5 pearl". */
export function wish_words({ level, tone }: WishEntry): string {
  return `level ${level} ${tone.join(" ")}`;
}
