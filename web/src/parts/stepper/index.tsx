// Two large buttons, one each side, that move a value.
import { useId } from "preact/hooks";
import "./style.css";

interface StepperProps {
  label: string;
  /** The value in words, with its unit. */
  words: string;
  /** The buttons' names for a screen reader: "½ level darker", "½ level lighter". */
  less: string;
  more: string;
  onLess?: (() => void) | undefined;
  onMore?: (() => void) | undefined;
  fault?: string | undefined;
}

/** Returns the stepper; a side without a handler has come to its end. */
export function Stepper({ label, words, less, more, onLess, onMore, fault }: StepperProps) {
  const id = useId();
  return (
    <div class="stepper" role="group" aria-labelledby={`${id}-label`}>
      <p id={`${id}-label`} class="stepper-label">
        {label}
      </p>
      <div class="stepper-row">
        <button type="button" aria-label={less} disabled={!onLess} onClick={onLess}>
          −
        </button>
        <output aria-live="polite">{words}</output>
        <button type="button" aria-label={more} disabled={!onMore} onClick={onMore}>
          +
        </button>
      </div>
      {fault && <p class="fault">{fault}</p>}
    </div>
  );
}
