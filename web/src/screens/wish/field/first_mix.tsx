// The first mix of the wish, which follows the ring: grey while another is being worked out.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { Formula } from "../../../api/shapes";
import { formulas } from "../../../engine/questions";
import { cooler_and_warmer } from "../../../parts/edges";
import { Patch } from "../../../parts/patch";
import { chance_words } from "../../../parts/words";
import { mix_words } from "../../../shelf/shelf";
import { is_moving } from "./follow";

const last = signal<Formula | null>(null);

/** Returns the mix in three lines; its grams come with the cards. */
export function FirstMix() {
  const asked = formulas.asked.value;
  const answer = asked.state === "answered" ? asked.answer.reply : undefined;
  useEffect(() => {
    if (answer) last.value = answer.formulas[0] ?? null;
  }, [answer]);
  const formula = answer ? answer.formulas[0] : last.value;
  if (!formula || asked.state === "nothing" || asked.state === "failed") return null;
  const { mix, predicted, window, chance } = formula;
  const grey = !answer || is_moving.value;
  return (
    <div class={grey ? "field-mix field-mix-old" : "field-mix"} aria-busy={grey}>
      <div class="surround">
        <Patch hex={predicted.hex} edges={cooler_and_warmer(predicted.range)} />
      </div>
      <p>
        <strong>{mix_words(mix)}</strong>
        <span>
          {"reason" in window
            ? `${mix.minutes} min`
            : `Rinse ${window.earliest} to ${window.latest}, best ${window.best}`}
        </span>
        <span class="quiet">Lands {chance_words(chance)}</span>
      </p>
    </div>
  );
}
