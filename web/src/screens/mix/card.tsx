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
  /** What a colourist would choose it by, beside the others shown; "" for one alone. */
  set_apart: string;
  /** Whether its grams stay hidden. */
  withheld: boolean;
}

const CLASS_WORDS: Record<Formula["class"], string> = {
  alkaline_demi: "Alkaline demi",
  neutral_demi: "Neutral demi",
  acid_demi: "Acid demi",
  permanent: "Permanent",
  direct: "Direct dye",
};

const COVERAGE_WORDS: Record<NonNullable<Formula["coverage"]>, string> = {
  covered: "covers white",
  blended: "blends white",
  seen: "white shows",
};

/** Returns the card; a tap anywhere but on "Why" takes it. */
export function Card({ formula, chosen, set_apart, withheld }: CardProps) {
  const { mix, predicted, chance, window, choose_when, coverage, stronger, reasons } = formula;
  const said_already = reasons.some((reason) => stronger && reason.includes(stronger.words));
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
        <Patch
          hex={predicted.hex}
          edges={cooler_and_warmer(predicted.range)}
          words={predicted.words}
        />
        <span class="card-text">
          <span class="card-name">{mix_words(mix)}</span>
          {!withheld && <Grams mix={mix} />}
          <span class="card-lands">
            {mix.minutes} min, lands {chance_words(chance)}
            {coverage && `, ${COVERAGE_WORDS[coverage]}`}
          </span>
          <span class="card-apart">
            {CLASS_WORDS[formula.class]}
            {set_apart && `: ${set_apart}`}
          </span>
        </span>
      </label>
      <details class="card-why">
        <summary>Why, and what it costs</summary>
        <ul>
          <li>Choose this when {choose_when}.</li>
          {predicted.paled_on_screen && <li>It is stronger than this screen shows.</li>}
          {reasons.map((reason) => (
            <li key={reason}>{reason}</li>
          ))}
          {stronger && !said_already && !withheld && <li>{stronger.words}</li>}
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

/** Returns weights with their unit once: "25 + 25 + 10 g". */
function weights_words(weights: readonly string[]): string {
  const unit = /\s\S+$/u.exec(weights.at(-1) ?? "")?.[0] ?? "";
  return weights
    .map((text, place) => (place < weights.length - 1 ? text.replace(unit, "") : text))
    .join(" + ");
}

function Grams({ mix: { parts, developer } }: { mix: Mix }) {
  return (
    <span>
      <strong class="card-grams">{weights_words(parts.map(({ grams }) => weight(grams)))}</strong>{" "}
      {developer && developer.grams > 0 && (
        <span class="card-developer">
          + {weight(developer.grams)} at {strength(developer.percent)}
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
