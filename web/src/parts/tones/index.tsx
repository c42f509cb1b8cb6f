// The chart of tones: the colour of each word at the level of the wish.
import { useId } from "preact/hooks";
import "./style.css";

interface ToneChartProps {
  tones: readonly (readonly [string, string | undefined])[];
  chosen: string | undefined;
  /** The second word of the wish, marked by a broken line. */
  second?: string | undefined;
  onChoose: (word: string) => void;
}

/** Returns the chart, a group of native radio buttons under the patches. */
export function ToneChart({ tones, chosen, second, onChoose }: ToneChartProps) {
  const id = useId();
  return (
    <fieldset class="tones">
      <legend class="unseen">Tone</legend>
      {tones.map(([word, hex]) => (
        <label key={word} class={word === second ? "tone tone-second" : "tone"}>
          <input
            type="radio"
            class="cover"
            name={id}
            checked={word === chosen}
            onChange={() => onChoose(word)}
          />
          <span
            class="tone-colour"
            data-hex={hex}
            style={{ backgroundColor: hex ?? "transparent" }}
          />
          <span class="tone-word">{word}</span>
        </label>
      ))}
    </fieldset>
  );
}
