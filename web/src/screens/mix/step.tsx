// The step on from the mixes: take the answer, compare, or take one of the two compared.
import type { Formula } from "../../api/shapes";
import { MeantButton, MeantStep } from "../../parts/meant";
import { note_tap } from "../../parts/meant/taps";
import { MainStep } from "../../parts/steps";
import { choose, compare, compared, comparing, end_compare, names_of } from "./compared";

interface MixStepProps {
  /** Goes on with the answer; undefined while there is none. */
  onTap: (() => void) | undefined;
  /** Whether what comes next is beside the mixes, so that nothing leads on to it. */
  beside?: boolean;
}

/** Returns the step; null where nothing is left to tap. */
export function MixStep({ onTap, beside = false }: MixStepProps) {
  const pair = comparing.value;
  if (pair) return <TakeOne pair={pair} />;
  if (!compared.value) {
    if (beside) return null;
    // Where it has taken the place of the tap that led here, a second one must mix nothing.
    const words = "Mix this";
    return onTap ? <MeantStep {...{ words, onTap }} /> : <MainStep {...{ words, onTap }} />;
  }
  return (
    <nav class={beside ? "steps" : "steps steps-aside"} aria-label="Next step">
      {!beside && onTap && <MeantButton words="Mix this" onTap={onTap} />}
      <button type="button" onClick={then(compare)}>
        Compare
      </button>
    </nav>
  );
}

/** Does an act that brings other acts under the same finger: its second tap must not meet them. */
function then(act: () => void): (event: MouseEvent) => void {
  return (event) => {
    note_tap(event);
    act();
  };
}

function TakeOne({ pair }: { pair: readonly [Formula, Formula] }) {
  const [left, right] = names_of(pair);
  return (
    <nav class="steps steps-pair" aria-label="Next step">
      <button type="button" class="step-main" onClick={then(() => choose(pair[0]))}>
        Take {left}
      </button>
      <button type="button" class="step-main" onClick={then(() => choose(pair[1]))}>
        Take {right}
      </button>
      <button type="button" onClick={then(end_compare)}>
        Back
      </button>
    </nav>
  );
}
