// Two mixes beside each other and under the wish; then only what differs.
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Formula } from "../../api/shapes";
import { difference } from "../../colour";
import { money, strength, weight } from "../../device/settings";
import { cooler_and_warmer } from "../../parts/edges";
import { Patch } from "../../parts/patch";
import { chance_words } from "../../parts/words";
import { CLASS_WORDS, COVERAGE_WORDS, from_to, line_of, tube_rows, tubes_line } from "./said";

interface CompareProps {
  pair: readonly [Formula, Formula];
  wish: { hex: string | undefined; words: string };
  withheld: boolean;
}

// CIEDE2000 below 1 is seen by hardly anybody; about 2.3 is just noticeable in CIELAB (Mahy, Van
// Eycken and Oosterlinck, Color Res. Appl. 19 (1994) 105; both from memory).
const HARDLY = 1;
const JUST = 2.3;

/** Returns how the colours of two mixes look beside each other, in one sentence. */
export function seen_words(delta_e: number): string {
  if (delta_e < HARDLY) return "You would hardly see a difference.";
  return delta_e < JUST ? "You would just see a difference." : "You would see the difference.";
}

/** Returns the comparison, with its heading in focus. */
export function Compare({ pair, wish, withheld }: CompareProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    heading.current?.focus({ preventScroll: true });
    heading.current?.scrollIntoView({ block: "start" });
  }, []);
  const [one, other] = pair;
  return (
    <>
      <h3 ref={heading} tabIndex={-1} class="compare-heading">
        Compare
      </h3>
      <div class="surround compare-patches">
        <Patch label={`wish: ${wish.words}`} hex={wish.hex} missing="being worked out" />
        <div class="compare-pair">
          {pair.map(({ mix, predicted }) => (
            <div key={tubes_line(mix, false)}>
              <Patch hex={predicted.hex} />
              <p class="compare-edges" aria-hidden="true">
                {cooler_and_warmer(predicted.range).map((hex) => (
                  <span key={hex} style={{ backgroundColor: hex }} />
                ))}
              </p>
              <p>{predicted.words}</p>
            </div>
          ))}
        </div>
        <p>Below each: its cooler and its warmer edge.</p>
      </div>
      <p class="compare-seen">{seen_words(difference(one.predicted.lab, other.predicted.lab))}</p>
      <table class="compare-table">
        <thead>
          <tr>
            <td />
            {pair.map(({ mix }, place) => (
              <th key={tubes_line(mix, false)} scope="col">
                {line_of(mix) || (place === 0 ? "left" : "right")}
                {tube_rows(mix, withheld).map((row) => (
                  <span key={row}>{row}</span>
                ))}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows_that_differ(pair, withheld).map(([name, ...values]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {values.map((value, place) => (
                <td key={place === 0 ? "left" : "right"}>{value}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

/** Returns the rows of the table in which the two mixes differ: the name, left, right. */
function rows_that_differ(
  [one, other]: readonly [Formula, Formula],
  withheld: boolean,
): [string, string, string][] {
  const rows: [string, (formula: Formula) => string][] = [
    ["rinse", ({ window }) => ("reason" in window ? "no window" : from_to(window))],
    ["best", ({ mix, window }) => `${"reason" in window ? mix.minutes : window.best} min`],
    ["lands", ({ chance }) => chance_words(chance)],
    ["class", (formula) => CLASS_WORDS[formula.class]],
    ["white", ({ coverage }) => (coverage ? COVERAGE_WORDS[coverage] : "none")],
    ["developer", ({ mix }) => developer_words(mix.developer, withheld)],
    ["cost", ({ cost }) => (cost === undefined ? "not known" : money(cost))],
  ];
  return rows
    .map(([name, said]): [string, string, string] => [name, said(one), said(other)])
    .filter(([, left, right]) => left !== right);
}

function developer_words(developer: Formula["mix"]["developer"], withheld: boolean): string {
  if (!developer || developer.grams === 0) return "none";
  const percent = strength(developer.percent);
  return withheld ? percent : `${weight(developer.grams)} ${percent}`;
}
