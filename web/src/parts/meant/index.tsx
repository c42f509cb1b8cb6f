// A leading act that a second tap of the same glove cannot reach: it settles first, and shows that.
import { useState } from "preact/hooks";
import { is_meant, is_settling } from "./taps";
import "./style.css";

interface MeantProps {
  words: string;
  /** A class of its own, for where it stands. */
  name?: string;
  onTap: () => void;
}

/** Returns the act that leads, as a button; give it its words as key, so that new words settle. */
export function MeantButton({ words, name = "", onTap }: MeantProps) {
  const [settles] = useState(is_settling);
  return (
    <button
      type="button"
      class={`step-main ${settles ? "settles " : ""}${name}`.trim()}
      onClick={(event) => is_meant(event) && onTap()}
    >
      {words}
    </button>
  );
}

/** Returns the main step of a page as such a button. */
export function MeantStep({ words, onTap }: MeantProps) {
  return (
    <nav class="steps" aria-label="Next step">
      <MeantButton key={words} {...{ words, onTap }} />
    </nav>
  );
}
