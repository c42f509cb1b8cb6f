// The mix that is taken unless another is tapped: what to weigh, when to rinse, how sure it is.
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Formula, OtherHair } from "../../api/shapes";
import { money } from "../../device/settings";
import { cooler_and_warmer } from "../../parts/edges";
import { Patch } from "../../parts/patch";
import { capital, chance_words, colour_words } from "../../parts/words";
import { mix_words } from "../../shelf/shelf";
import { was_tapped } from "./compared";
import { CLASS_WORDS, COVERAGE_WORDS, rinse_words, rows_of, shade_words } from "./said";

interface AnswerProps {
  formula: Formula;
  /** What a colourist would choose it by, beside the others; "" for one alone. */
  set_apart: string;
  /** Whether its grams stay hidden. */
  withheld: boolean;
}

const TENTHS = 10;

/** Returns the answer, with its reasons and its cost a tap away. */
export function TheAnswer({ formula, set_apart, withheld }: AnswerProps) {
  const { mix, predicted, chance, coverage } = formula;
  const here = useRef<HTMLElement>(null);
  // The button that was tapped is gone: keys, readers and eyes go on from the answer.
  useLayoutEffect(() => {
    if (!was_tapped(formula)) return;
    here.current?.focus({ preventScroll: true });
    here.current?.scrollIntoView({ block: "nearest" });
  }, []);
  return (
    <section ref={here} class="answer" aria-label="The mix" tabIndex={-1}>
      <div class="answer-face">
        <div class="surround answer-patch">
          <Patch hex={predicted.hex} edges={cooler_and_warmer(predicted.range)} />
        </div>
        <div class="answer-text">
          {withheld ? (
            <p class="answer-part">{mix_words(mix)}</p>
          ) : (
            <ul class="answer-rows">
              {rows_of(mix).map(([grams, name], place) => (
                <li key={name} class={place < mix.parts.length ? "answer-part" : ""}>
                  {grams} {name}
                </li>
              ))}
            </ul>
          )}
          <p class="answer-rinse">{rinse_words(formula)}</p>
          <p class="answer-lands">
            <Tenths chance={chance} />
            lands {chance_words(chance)}
          </p>
          <p class="quiet">
            {capital(CLASS_WORDS[formula.class])}
            {set_apart && `, ${set_apart}`}
            {coverage && `, ${COVERAGE_WORDS[coverage]}`} · {shade_words(formula)}
          </p>
        </div>
      </div>
      <Why formula={formula} withheld={withheld} />
    </section>
  );
}

/** The chance as ten boxes, of which so many are full; its words stand beside it. */
function Tenths({ chance }: { chance: number }) {
  const full = Math.round(chance * TENTHS);
  return (
    <span class="tenths" aria-hidden="true">
      {Array.from({ length: TENTHS }, (_, place) => (
        <span key={place} class={place < full ? "tenth-full" : ""} />
      ))}
    </span>
  );
}

function Why({ formula, withheld }: { formula: Formula; withheld: boolean }) {
  const { predicted, window, choose_when, stronger, reasons } = formula;
  const said_already = reasons.some((reason) => stronger && reason.includes(stronger.words));
  return (
    <details class="answer-why">
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
  );
}

function Also({ also }: { also: Formula["also"] }) {
  return also?.map(
    ({ name, predicted, chance }: Pick<OtherHair, "name"> & (typeof also)[number]) => (
      <li key={name} class="answer-also">
        <span class="answer-also-patch" style={{ backgroundColor: predicted.hex }} />
        <span>
          {name}: {colour_words(predicted)}, lands {chance_words(chance)}
        </span>
      </li>
    ),
  );
}
