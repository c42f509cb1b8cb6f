// A formula in the words of this screen.
import type { Formula, Mix } from "../../api/shapes";
import { strength, weight } from "../../device/settings";
import { product_of, product_words } from "../../shelf/shelf";

export const CLASS_WORDS: Record<Formula["class"], string> = {
  alkaline_demi: "alkaline demi",
  neutral_demi: "neutral demi",
  acid_demi: "acid demi",
  permanent: "permanent",
  direct: "direct dye",
};

export const COVERAGE_WORDS: Record<NonNullable<Formula["coverage"]>, string> = {
  covered: "covers white",
  blended: "blends white",
  seen: "white shows",
};

/** Returns the line of the first tube, "" for one that has left the shelf. */
export function line_of({ parts }: Mix): string {
  return product_of(parts[0]?.product ?? "")?.line ?? "";
}

/** Returns a colour's level and tone alone: "10, beige" of "level 10, beige". */
export function shade_words({ predicted }: Formula): string {
  return predicted.words.replace(/^level /u, "");
}

/** Returns a window without its best minute: "5 to 13", and "at 8" where it is one minute. */
export function from_to(
  { earliest, latest }: { earliest: number; latest: number },
  between = " to ",
): string {
  return earliest === latest ? `at ${latest}` : `${earliest}${between}${latest}`;
}

/** Returns when a mix can be rinsed, as short as it goes: "rinse 5–13". */
export function rinse_short({ window, mix }: Formula): string {
  return "reason" in window ? `${mix.minutes} min` : `rinse ${from_to(window, "–")}`;
}

/** Returns what is weighed, a row each: its weight, and what it is. */
export function rows_of({ parts, developer }: Mix): [string, string][] {
  const tubes = parts.map(({ product, grams }): [string, string] => [
    weight(grams),
    product_words(product),
  ]);
  return developer && developer.grams > 0
    ? [...tubes, [weight(developer.grams), `developer ${strength(developer.percent)}`]]
    : tubes;
}

/** Returns the tubes a row each, named without the line of the first: "40 g 9 violet". */
export function tube_rows(mix: Mix, withheld = false): string[] {
  const line = line_of(mix);
  return mix.parts.map(({ product, grams }) => {
    const known = product_of(product);
    const name = known?.line === line ? known.name : product_words(product);
    return withheld ? name : `${weight(grams)} ${name}`;
  });
}

/** Returns the tubes in one line: "Cobble: 40 g 9 violet, 20 g Clear"; without grams by name. */
export function tubes_line(mix: Mix, withheld: boolean): string {
  const line = line_of(mix);
  return `${line && `${line}: `}${tube_rows(mix, withheld).join(withheld ? " + " : ", ")}`;
}

/** Returns when to rinse: "Rinse 5 to 13, best 8"; a mix without a window has its minutes alone. */
export function rinse_words({ window, mix }: Formula): string {
  if ("reason" in window) return `${mix.minutes} min`;
  const { earliest, best, latest } = window;
  return `Rinse ${from_to(window)}${earliest === latest ? "" : `, best ${best}`}`;
}
