// Reads shade codes by the legend of their own line. Codes differ from maker to maker, so it reads
// nothing into a code that the legend does not say.

/** The tone words of product labels; the engine holds what each promises. */
export const PRODUCT_TONES = [
  "natural",
  "beige",
  "ash",
  "violet",
  "blue violet",
  "blue",
  "pearl",
  "silver",
  "smoke",
  "gold",
  "copper",
  "red",
  "mahogany",
  "pink",
  "purple",
  "turquoise",
  "rose",
  "green",
  "clear",
] as const;

/** How a line works, and what the trade calls that. */
export const CLASSES = [
  ["alkaline_demi", "alkaline demi"],
  ["neutral_demi", "neutral demi"],
  ["acid_demi", "acid demi"],
  ["permanent", "permanent"],
  ["direct", "direct, no developer"],
] as const;

/** The hair a line is made for: its shade names are true on that. */
export const MADE_FOR = [
  ["any", "any hair"],
  ["lifted", "lifted hair"],
  ["white", "white hair"],
] as const;

interface ReadCode {
  level: number | undefined;
  tone: string[];
  /** The first piece of the code that the legend does not know; empty if it knows all. */
  unknown: string;
}

/** A clear has no colour to give a level; calculations take it as the palest. */
const CLEAR = { level: 10, tone: ["clear"], unknown: "" };
/** "Clear", "0/0", "000", "0-00": common practice, no published source. */
const IS_CLEAR = /^(clear|0+([/.,\- ]?0+)*)$/i;

/** Returns whether a tone is that of a clear, which has no level. */
export function is_clear(tone: readonly string[]): boolean {
  return tone.length === 1 && tone[0] === "clear";
}

/** Returns a shade in words: "level 9 violet", and "clear" for a clear. */
export function shade_words(level_words: string, tone: readonly string[]): string {
  return is_clear(tone) ? "clear" : `${level_words} ${tone.join(" ")}`;
}

const SEPARATORS = /^[\s./,\-–:]+/;
const MOST_TONES = 2;

/**
 * Returns the meaning of a code: the number it starts with is the level, the rest is the legend's.
 * A clear is known in every line.
 */
export function read_code(
  code: string,
  legend: Readonly<Record<string, readonly string[]>>,
): ReadCode {
  const whole = code.trim();
  if (IS_CLEAR.test(whole)) return { ...CLEAR, tone: [...CLEAR.tone] };
  const level = /^\d{1,2}/.exec(whole)?.[0];
  let rest = level ? whole.slice(level.length) : whole;
  const pieces = Object.keys(legend).sort((a, b) => b.length - a.length);
  const tone: string[] = [];
  let unknown = "";
  for (rest = rest.replace(SEPARATORS, ""); rest; rest = rest.replace(SEPARATORS, "")) {
    const small = rest.toLocaleLowerCase();
    const piece = pieces.find((known) => small.startsWith(known.toLocaleLowerCase()));
    if (piece) tone.push(...(legend[piece] ?? []));
    else unknown ||= letter_or_number(rest);
    rest = rest.slice(piece?.length ?? letter_or_number(rest).length);
  }
  // A tone named twice is the stronger one; the words here know no stronger.
  return {
    level: level ? Number(level) : undefined,
    tone: [...new Set(tone)].slice(0, MOST_TONES),
    unknown,
  };
}

function letter_or_number(rest: string): string {
  return [...rest][0] ?? "";
}

/** Returns why a level cannot be on a label, or nothing. */
export function level_fault(level: number | undefined): string {
  if (level === undefined) return "Say the level: tap − or +, or begin the code with it.";
  if (level >= 1 && level <= 11) return "";
  return `A label's level is 1 to 11; got ${level}.`;
}

/** Returns why a developer's strength is impossible, or nothing. */
export function peroxide_fault(typed: string): string {
  const percent = Number(typed.replace(",", "."));
  if (typed.trim() === "" || !Number.isFinite(percent) || percent < 0) {
    return `Type the percent of peroxide as a number; got “${typed}”.`;
  }
  if (percent <= 12) return "";
  return `At most 12 % peroxide; got ${typed}. Did you enter the volume? ${typed} vol is ${Math.round(percent * 3) / 10} %.`;
}
