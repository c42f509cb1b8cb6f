// One formula: its colour, grams, minutes and chance; the reasons and the cost are a tap away.
import type { Formula, Mix, OtherHair } from "../../api/shapes";
import { money, strength, weight } from "../../device/settings";
import { cooler_and_warmer } from "../../parts/edges";
import { Patch } from "../../parts/patch";
import { chance_words, colour_words } from "../../parts/words";
import { mix_words } from "../../shelf/shelf";
import { choose } from "./actions";

interface CardProps {
  formula: Formula;
  chosen: boolean;
  /** Whether its grams stay hidden. */
  withheld: boolean;
}

const CLASS_WORDS: Record<Formula["class"], string> = {
  alkaline_demi: "alkaline demi",
  neutral_demi: "neutral demi",
  acid_demi: "acid demi",
  permanent: "permanent",
  direct: "direct dye",
};

const COVERAGE_WORDS: Record<NonNullable<Formula["coverage"]>, string> = {
  covered: "covers white",
  blended: "blends white",
  seen: "white shows",
};

/** Returns the card; a tap anywhere but on "Why" takes it. */
export function Card({ formula, chosen, withheld }: CardProps) {
  const { mix, predicted, chance, window, choose_when, coverage, stronger } = formula;
  return (
    <li class="card">
      <label class="card-face">
        <input
          type="radio"
          class="cover"
          name="mix"
          checked={chosen}
          onChange={() => choose(formula)}
        />
        <Patch hex={predicted.hex} edges={cooler_and_warmer(predicted.range)} />
        <span class="card-text">
          <span class="card-name">{mix_words(mix)}</span>
          {!withheld && <Grams mix={mix} />}
          <span>
            {mix.minutes} min · lands {chance_words(chance)}
          </span>
          <span>
            {[CLASS_WORDS[formula.class], coverage && COVERAGE_WORDS[coverage]]
              .filter(Boolean)
              .join(", ")}
            : {colour_words(predicted)}
          </span>
          {stronger && !withheld && <span class="quiet">{stronger.words}</span>}
        </span>
      </label>
      <details class="card-why">
        <summary>Why, and what it costs</summary>
        <ul>
          <li>Choose this when {choose_when}.</li>
          {formula.reasons.map((reason) => (
            <li key={reason}>{reason}</li>
          ))}
          {"reason" in window && <li>{window.reason}</li>}
          <Also also={formula.also} />
          <li>
            {formula.cost === undefined
              ? "Cost unknown: a price is missing on the shelf."
              : `Cost: ${money(formula.cost)}, without developer.`}
          </li>
        </ul>
      </details>
    </li>
  );
}

function Grams({ mix: { parts, developer } }: { mix: Mix }) {
  return (
    <span>
      <strong class="card-grams">{parts.map(({ grams }) => weight(grams)).join(" + ")}</strong>{" "}
      {developer && developer.grams > 0 && (
        <span class="card-developer">
          + {weight(developer.grams)} developer {strength(developer.percent)}
        </span>
      )}
    </span>
  );
}

function Also({ also }: { also: Formula["also"] }) {
  return also?.map(
    ({ name, predicted, chance }: Pick<OtherHair, "name"> & (typeof also)[number]) => (
      <li key={name} class="card-also">
        <span class="card-also-patch" style={{ backgroundColor: predicted.hex }} />
        <span>
          {name}: {colour_words(predicted)}, lands {chance_words(chance)}
        </span>
      </li>
    ),
  );
}
