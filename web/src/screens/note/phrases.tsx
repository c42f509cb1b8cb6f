// Phrases you write again and again, one tap each; add your own, and change them here.
import { useState } from "preact/hooks";
import { kept } from "../../device/kept";
import { useTyped } from "../../device/typed";

const phrases = kept<string[]>("phrases", [
  "Took as expected.",
  "Rinsed early.",
  "Ends took faster.",
  "Next time a level deeper.",
]);
const MOST = 12;

/** Returns the phrases; a tap inserts one. */
export function Phrases({ onPhrase }: { onPhrase: (phrase: string) => void }) {
  const [changing, change] = useState(false);
  const [typed, type] = useTyped("phrase", "", "");
  const add = () => {
    if (typed.trim()) phrases.value = [...phrases.value, typed.trim()].slice(-MOST);
    type("");
  };
  return (
    <div class="phrases">
      {phrases.value.map((phrase) => (
        <button
          key={phrase}
          type="button"
          class="phrase"
          onClick={() => {
            if (changing) phrases.value = phrases.value.filter((other) => other !== phrase);
            else onPhrase(phrase);
          }}
        >
          {changing ? `Remove “${phrase}”` : phrase}
        </button>
      ))}
      <button
        type="button"
        class="phrase"
        aria-pressed={changing}
        onClick={() => change(!changing)}
      >
        {changing ? "Done" : "Change phrases"}
      </button>
      {changing && (
        <div class="phrase-new">
          <label>
            <span class="unseen">A phrase of your own</span>
            <input
              type="text"
              maxLength={80}
              value={typed}
              placeholder="a phrase of your own"
              onInput={(event) => type(event.currentTarget.value)}
            />
          </label>
          <button type="button" disabled={!typed.trim()} onClick={add}>
            Add
          </button>
        </div>
      )}
    </div>
  );
}
