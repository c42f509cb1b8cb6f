// The next step for the thumb: the one main step of a page, full width, above the constant bar.
import type { ComponentChildren } from "preact";
import "./style.css";

interface MainStepProps {
  words: string;
  onTap: ((event: MouseEvent) => void) | undefined;
}

/** Returns the main step; without `onTap` it says what is missing and cannot be tapped. */
export function MainStep({ words, onTap }: MainStepProps) {
  return (
    <nav class="steps" aria-label="Next step">
      <button type="button" class="step-main" disabled={!onTap} onClick={onTap}>
        {words}
      </button>
    </nav>
  );
}

interface StepsProps {
  label: string;
  /** Whether the main one has a row of its own on a phone, for a glove with dye on it. */
  wide?: boolean;
  children: ComponentChildren;
}

/** Returns three steps: the main one between a smaller one to each side. */
export function Steps({ label, wide = false, children }: StepsProps) {
  return (
    <nav class={`steps steps-three ${wide ? "steps-wide" : ""}`} aria-label={label}>
      {children}
    </nav>
  );
}
