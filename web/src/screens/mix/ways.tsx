// The other ways to the wish, each by the one thing somebody would choose it for.
import type { Formula } from "../../api/shapes";
import { mix_key } from "../../bench/chosen";
import { cooler_and_warmer } from "../../parts/edges";
import { Patch } from "../../parts/patch";
import { capital, chance_words } from "../../parts/words";
import { choose, tick, ticked } from "./compared";
import { CLASS_WORDS, COVERAGE_WORDS, rinse_short, tubes_line } from "./said";

export interface Way {
  formula: Formula;
  set_apart: string;
}

interface WaysProps {
  ways: readonly Way[];
  /** The class of the mix that leads: where it is gentler, a permanent is one more tap away. */
  leads: Formula["class"];
  withheld: boolean;
}

const IN_SIGHT = 3;

/** Returns at most three other ways; what goes beyond them, and permanents, are in a fold. */
export function Ways({ ways, leads, withheld }: WaysProps) {
  if (ways.length === 0) return null;
  const folded = (of_class: Formula["class"]) => of_class === "permanent" && leads !== "permanent";
  const open = ways.filter(({ formula }) => !folded(formula.class)).slice(0, IN_SIGHT);
  const rest = ways.filter((way) => !open.includes(way));
  return (
    <>
      <div class="ways-head">
        <h3>Another way</h3>
        <p class="quiet">tick to compare</p>
      </div>
      <List ways={open} withheld={withheld} />
      {rest.length > 0 && (
        <details class="ways-more">
          <summary>{rest_words(rest)}</summary>
          <List ways={rest} withheld={withheld} />
        </details>
      )}
    </>
  );
}

/** Returns what the fold holds: "Permanent: 1 mix", "2 more mixes". */
function rest_words(rest: readonly Way[]): string {
  const count = rest.length === 1 ? "1 mix" : `${rest.length} mixes`;
  return rest.every(({ formula }) => formula.class === "permanent")
    ? `Permanent: ${count}`
    : `More: ${count}`;
}

function List({ ways, withheld }: { ways: readonly Way[]; withheld: boolean }) {
  return (
    <ul class="ways">
      {ways.map((way) => (
        <OneWay key={mix_key(way.formula.mix)} {...way} withheld={withheld} />
      ))}
    </ul>
  );
}

function OneWay({ formula, set_apart, withheld }: Way & { withheld: boolean }) {
  const { mix, predicted, chance, coverage } = formula;
  const name = capital(set_apart || CLASS_WORDS[formula.class]);
  return (
    <li class="way">
      <button type="button" class="way-take" onClick={() => choose(formula)}>
        <span class="surround way-patch">
          <Patch hex={predicted.hex} edges={cooler_and_warmer(predicted.range)} />
        </span>
        <span class="way-text">
          <span>
            <strong>{name}</strong>
            {set_apart && ` · ${CLASS_WORDS[formula.class]}`}
          </span>
          <span>{tubes_line(mix, withheld)}</span>
          <span class="quiet">
            {rinse_short(formula)} · lands {chance_words(chance)}
            {coverage && ` · ${COVERAGE_WORDS[coverage]}`}
          </span>
        </span>
      </button>
      <label class="way-tick">
        <input
          type="checkbox"
          class="cover"
          aria-label={`Compare: ${name}, ${CLASS_WORDS[formula.class]}`}
          checked={ticked.value.includes(mix_key(mix))}
          onChange={() => tick(mix_key(mix))}
        />
        <span class="tick-box" />
      </label>
    </li>
  );
}
