// The words a look is said in.
import type { Reading } from "../../api/shapes";
import { LOOK_WORDS } from "../../salon/service/looks";
import "./style.css";

interface LookWordsProps {
  legend: string;
  value?: Reading["words"];
  onWords: (words: NonNullable<Reading["words"]>) => void;
}

/** Returns the nine words a look is said in. */
export function LookWords({ legend, value, onWords }: LookWordsProps) {
  return (
    <fieldset>
      <legend>{legend}</legend>
      <div class="judge-words">
        {LOOK_WORDS.map(([words, said]) => (
          <button
            key={words}
            type="button"
            aria-pressed={value === undefined ? undefined : value === words}
            onClick={() => onWords(words)}
          >
            {said}
          </button>
        ))}
      </div>
    </fieldset>
  );
}
