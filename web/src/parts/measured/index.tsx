// An instrument's reading, typed in place of a word.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { LabField } from "../number";

type Typed = [string, string, string];

const NOTHING: Typed = ["", "", ""];

interface MeasuredProps<Lab> {
  /** Returns the typed text as numbers; null while it is incomplete. */
  lab_of: (typed: Typed) => Lab | null;
  /** The button's words. */
  words: string;
  onLab: (lab: Lab) => void;
  /** A note to the reading. */
  children?: ComponentChildren;
}

/** Returns the fields under one tap; they are empty again once the reading is taken. */
export function Measured<Lab>({ lab_of, words, onLab, children }: MeasuredProps<Lab>) {
  const [typed, put_typed] = useState(NOTHING);
  const lab = lab_of(typed);
  const take = () => {
    if (!lab) return;
    onLab(lab);
    put_typed(NOTHING);
  };
  return (
    <details>
      <summary>Measured, as L*, a*, b*</summary>
      <div class="stack">
        {children}
        <LabField
          legend="Reading (D65, 10°)"
          value={typed}
          onType={put_typed}
          faults={[undefined, undefined, undefined]}
        />
        <button type="button" disabled={!lab} onClick={take}>
          {words}
        </button>
      </div>
    </details>
  );
}
