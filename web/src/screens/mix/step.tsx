// The step on from the mixes: take the answer, compare, or take one of the two compared.
import type { Formula } from "../../api/shapes";
import { MainStep } from "../../parts/steps";
import { choose, compare, compared, comparing, end_compare, names_of } from "./compared";

interface MixStepProps {
  /** Goes on with the answer; undefined while there is none. */
  onTap: ((event: MouseEvent) => void) | undefined;
  /** Whether what comes next is beside the mixes, so that nothing leads on to it. */
  beside?: boolean;
}

/** Returns the step; null where nothing is left to tap. */
export function MixStep({ onTap, beside = false }: MixStepProps) {
  const pair = comparing.value;
  if (pair) return <TakeOne pair={pair} />;
  if (!compared.value) return beside ? null : <MainStep words="Mix this" onTap={onTap} />;
  return (
    <nav class={beside ? "steps" : "steps steps-aside"} aria-label="Next step">
      {!beside && (
        <button type="button" class="step-main" disabled={!onTap} onClick={onTap}>
          Mix this
        </button>
      )}
      <button type="button" onClick={compare}>
        Compare
      </button>
    </nav>
  );
}

function TakeOne({ pair }: { pair: readonly [Formula, Formula] }) {
  const [left, right] = names_of(pair);
  return (
    <nav class="steps steps-pair" aria-label="Next step">
      <button type="button" class="step-main" onClick={() => choose(pair[0])}>
        Take {left}
      </button>
      <button type="button" class="step-main" onClick={() => choose(pair[1])}>
        Take {right}
      </button>
      <button type="button" onClick={end_compare}>
        Back
      </button>
    </nav>
  );
}
