// Who a calendar's title speaks of, and what else it says. "Ida Quell - toner" is Ida Quell, and
// "toner" is a note. A client is found by the whole name, by a name inside the title, or by one
// that is nearly the same; the last is only ever a question.
import { type Client, plain_text } from "../clients";

/** How surely a title is a known client's. */
export type Match = "exact" | "near" | "none";

export interface Titled {
  match: Match;
  /** The clients it may be; several where the match does not tell them apart. */
  clients: readonly Client[];
  /** The name, as a client's record would have it. */
  name: string;
  /** What the title says beside the name; empty for nothing. */
  rest: string;
}

/** A client's name, ready to be compared with many titles. */
interface Known {
  client: Client;
  words: readonly string[];
}

/** What parts a name from the rest; a comma does so only before words that are no name. */
const PARTS = /\s+[-–—|/+&·•@]+\s+|\s*[:;([]\s*|\s+-|-\s+|\s*,\s+|\n/u;
const LEAST_LETTERS = 4;
const LETTERS_PER_SLIP = 5;
const MOST_NEAR = 4;

/** Returns the clients' names as `titled` takes them. */
export function known_names(clients: readonly Client[]): Known[] {
  return clients
    .map((client) => ({ client, words: words_of(client.name ?? "") }))
    .filter(({ words }) => words.length > 0);
}

/** Returns who a title speaks of, among known clients. */
export function titled(title: string, known: readonly Known[]): Titled {
  const whole = title.replace(/\s+/g, " ").trim();
  const inside = longest_inside(whole, known);
  if (inside.length > 0) {
    const words = inside[0]?.words ?? [];
    const name = inside[0]?.client.name ?? whole;
    return {
      match: "exact",
      clients: inside.map(({ client }) => client),
      name,
      rest: without(whole, words),
    };
  }
  const { name, rest } = split(whole);
  const near = nearly(name, known);
  return {
    match: near.length > 0 ? "near" : "none",
    clients: near.map(({ client }) => client),
    name,
    rest,
  };
}

function words_of(text: string): string[] {
  return plain_text(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter(Boolean);
}

/** The clients whose whole name is in a title, with the most words; a surname may come first. */
function longest_inside(title: string, known: readonly Known[]): Known[] {
  const text = ` ${words_of(title).join(" ")} `;
  let found: Known[] = [];
  for (const one of known) {
    const longest = found[0]?.words.length ?? 0;
    if (one.words.length < longest) continue;
    if (!orders_of(one.words).some((words) => text.includes(` ${words.join(" ")} `))) continue;
    // One word alone may be anybody's, or no name: it counts only as the whole title's name.
    if (one.words.length === 1 && !starts_with(title, one.words)) continue;
    found = one.words.length > longest ? [one] : [...found, one];
  }
  return found;
}

function orders_of(words: readonly string[]): (readonly string[])[] {
  const last = words.at(-1);
  return last && words.length > 1 ? [words, [last, ...words.slice(0, -1)]] : [words];
}

/** Whether the part of a title before its first mark is just these words. */
function starts_with(title: string, words: readonly string[]): boolean {
  return words_of(split(title).name).join(" ") === words.join(" ");
}

/** Returns a title without a name's words, in either order, and without the marks around them. */
function without(title: string, name: readonly string[]): string {
  const found = [...title.matchAll(/[\p{L}\p{N}\p{M}]+/gu)];
  const plain = found.map(([word]) => words_of(word).join(""));
  for (const words of orders_of(name)) {
    const at = plain.findIndex((_, from) => words.every((word, n) => plain[from + n] === word));
    const [first, last] = [found[at], found[at + words.length - 1]];
    if (at < 0 || !first || !last) continue;
    const before = bare(title.slice(0, first.index));
    const after = bare(title.slice(last.index + last[0].length));
    return [before, after].filter(Boolean).join("; ");
  }
  // A name with an apostrophe or a hyphen is several words here and one there.
  return "";
}

/** Drops a text’s marks at both ends, but keeps a bracket that closes one within. */
export function bare(text: string): string {
  const trimmed = text.replace(/^[\s\-–—|/+&·•@:;,.([\])]+|[\s\-–—|/+&·•@:;,([]+$/gu, "");
  return /[([]/.test(trimmed) ? trimmed : trimmed.replace(/[)\]]+$/u, "");
}

/** Splits a title at the first mark that parts a name from the rest. */
function split(title: string): { name: string; rest: string } {
  const [mark] = PARTS.exec(title) ?? [];
  const at = mark ? title.indexOf(mark) : -1;
  if (!mark || at <= 0) return { name: title, rest: "" };
  const [before, after] = [title.slice(0, at).trim(), title.slice(at + mark.length).trim()];
  if (!mark.includes(",")) return { name: before, rest: bare(after) };
  // "Quell, Ida - toner": a surname, then a name; "Ida Quell, toner" is a name, then the rest.
  const [next = ""] = after.split(PARTS, 1);
  const is_name = /^\p{Lu}[\p{L}\p{M}'’.-]*( \p{Lu}[\p{L}\p{M}'’.-]*)?$/u.test(next.trim());
  if (is_name && !before.includes(" ")) {
    return { name: `${next.trim()} ${before}`, rest: bare(after.slice(next.length)) };
  }
  return { name: before, rest: bare(after) };
}

/** The clients that a name may be meant for: some letters slip, or one name is only begun. */
function nearly(name: string, known: readonly Known[]): Known[] {
  const wanted = words_of(name);
  const text = wanted.join(" ");
  if (text.length === 0) return [];
  const ranked = known.flatMap((one) => {
    const full = one.words.join(" ");
    const begun = is_begun(wanted, one.words);
    const most = Math.floor(Math.max(text.length, full.length) / LETTERS_PER_SLIP);
    const slips = begun
      ? 1
      : text.length < LEAST_LETTERS
        ? most + 1
        : slips_between(text, full, most);
    return slips <= Math.max(most, begun ? 1 : 0) ? [{ one, slips }] : [];
  });
  return ranked
    .sort((a, b) => a.slips - b.slips)
    .slice(0, MOST_NEAR)
    .map(({ one }) => one);
}

/** Whether each word begins one of the name's, in order: "Ida Q." and "Ida" begin "Ida Quell". */
function is_begun(short: readonly string[], full: readonly string[]): boolean {
  if (short.length > full.length || short[0] !== full[0]) return false;
  return short.every((word, at) => full[at]?.startsWith(word));
}

/**
 * Returns how many letters are put in, left out, changed or swapped between two texts, or one more
 * than `most`: the optimal string alignment distance.
 */
export function slips_between(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let [before, last]: number[][] = [[], Array.from({ length: b.length + 1 }, (_, at) => at)];
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min(
        (last?.[j] ?? 0) + 1,
        (row[j - 1] ?? 0) + 1,
        (last?.[j - 1] ?? 0) + same,
      );
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) least = Math.min(least, (before?.[j - 2] ?? 0) + 1);
      row.push(least);
    }
    if (Math.min(...row) > most) return most + 1;
    [before, last] = [last ?? [], row];
  }
  return Math.min(last?.[b.length] ?? most + 1, most + 1);
}
