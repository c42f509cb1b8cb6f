// An instrument's reading, typed in place of a word.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { LabField } from "../number";

export type Typed = [string, string, string];

/** A reading that nobody has begun to type. */
export const NO_READING: Typed = ["", "", ""];

interface MeasuredProps<Lab> {
  /** Returns the typed text as numbers; null while it is incomplete. */
  lab_of: (typed: Typed) => Lab | null;
  /** The button's words. */
  words: string;
  /** What is typed so far, and the way to change it. */
  typed: Typed;
  onType: (typed: Typed) => void;
  onLab: (lab: Lab) => void;
  /** A note to the reading. */
  children?: ComponentChildren;
}

/**
 * Returns the fields under one tap; they are empty again once the reading is taken. A reading that
 * is half typed shows without the tap.
 */
export function Measured<Lab>({
  lab_of,
  words,
  typed,
  onType,
  onLab,
  children,
}: MeasuredProps<Lab>) {
  // Only as it opens: a field that is emptied for another number keeps its place.
  const [half_typed] = useState(typed.some(Boolean));
  const lab = lab_of(typed);
  const take = () => {
    if (!lab) return;
    onLab(lab);
    onType(NO_READING);
  };
  return (
    <details open={half_typed}>
      <summary>Measured, as L*, a*, b*</summary>
      <div class="stack">
        {children}
        <LabField
          legend="Reading (D65, 10°)"
          value={typed}
          onType={onType}
          faults={[undefined, undefined, undefined]}
        />
        <button type="button" disabled={!lab} onClick={take}>
          {words}
        </button>
      </div>
    </details>
  );
}
