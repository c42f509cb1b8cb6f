// What sets each mix apart from the others shown: the one thing a colourist would choose it by.
import type { Formula, ProductClass } from "../../api/shapes";
import { line_of } from "./said";

interface Way {
  /** Said of the mix that leads all others in this. */
  most: string;
  /** Said of a mix that only goes before the first. */
  more: string;
  /** Less is better; NaN where it is not known. */
  measure: (formula: Formula) => number;
  /** The least difference that somebody would choose by. */
  by: number;
}

// From the gentlest to the one that opens the hair most, and from the one that goes first to the
// one that lasts: common practice, no published source.
const GENTLEST_FIRST: readonly ProductClass[] = [
  "acid_demi",
  "neutral_demi",
  "alkaline_demi",
  "direct",
  "permanent",
];
const LONGEST_LAST: readonly ProductClass[] = [
  "direct",
  "acid_demi",
  "neutral_demi",
  "alkaline_demi",
  "permanent",
];
const BEST_COVER_FIRST = ["covered", "blended", "seen"] as const;

const WAYS: readonly Way[] = [
  {
    most: "best cover",
    more: "better cover",
    measure: ({ coverage }) => (coverage ? BEST_COVER_FIRST.indexOf(coverage) : Number.NaN),
    by: 1,
  },
  {
    most: "no developer",
    more: "no developer",
    measure: ({ mix }) => (mix.developer && mix.developer.grams > 0 ? 1 : 0),
    by: 1,
  },
  {
    most: "gentlest",
    more: "gentler",
    measure: ({ class: of_class }) => GENTLEST_FIRST.indexOf(of_class),
    by: 1,
  },
  {
    most: "lasts longest",
    more: "lasts longer",
    measure: ({ class: of_class }) => -LONGEST_LAST.indexOf(of_class),
    by: 1,
  },
  {
    most: "weakest developer",
    more: "weaker developer",
    measure: ({ mix }) => mix.developer?.percent ?? 0,
    by: 0.5,
  },
  { most: "quickest", more: "quicker", measure: ({ mix }) => mix.minutes, by: 3 },
  { most: "surest", more: "surer", measure: ({ chance }) => -chance, by: 0.05 },
  {
    most: "fewest tubes",
    more: "fewer tubes",
    measure: ({ mix }) => mix.parts.length,
    by: 1,
  },
  {
    most: "widest window",
    more: "wider window",
    measure: ({ window }) => ("reason" in window ? Number.NaN : window.earliest - window.latest),
    by: 3,
  },
  // A fifth less cost, as the engine counts two mixes as another choice.
  {
    most: "cheapest",
    more: "cheaper",
    measure: ({ cost }) => (cost ? Math.log(cost) : Number.NaN),
    by: -Math.log(0.8),
  },
  { most: "closest", more: "closer", measure: ({ delta_e }) => delta_e, by: 0.3 },
];

/**
 * Returns for each formula the words that set it apart, "" for one alone. Two of one class never
 * have the same words.
 */
export function set_apart(found: readonly Formula[]): string[] {
  const said = new Set<string>();
  return found.map((formula, place) => {
    if (found.length === 1) return "";
    const others = found.filter((other) => other !== formula);
    const leads = WAYS.filter((way) => others.every((other) => goes_before(way, formula, other)));
    const first = found[0];
    const beats = place > 0 && first ? WAYS.filter((way) => goes_before(way, formula, first)) : [];
    const line = line_of(formula.mix);
    const alone_of_line = others.every(({ mix }) => line_of(mix) !== line);
    const candidates = [
      ...leads.map(({ most }) => most),
      ...beats.map(({ more }) => more),
      ...(place === 0 ? ["best all round"] : []),
      ...(line && alone_of_line ? [`from ${line}`] : []),
      formula.predicted.words,
      `other amounts, ${place + 1}`,
    ];
    const words = candidates.find((candidate) => !said.has(`${formula.class} ${candidate}`)) ?? "";
    said.add(`${formula.class} ${words}`);
    return words;
  });
}

function goes_before({ measure, by }: Way, formula: Formula, other: Formula): boolean {
  return measure(other) - measure(formula) >= by - 1e-9;
}
