// One of a few, by tapping its word: native radio buttons, as large as a gloved thumb.
import { useId } from "preact/hooks";
import "./style.css";

interface ChoiceProps<Value extends string | number | boolean> {
  legend: string;
  options: readonly (readonly [Value, string])[];
  value: Value | undefined;
  onChoose: (value: Value) => void;
  note?: string;
  fault?: string | undefined;
}

/** Returns the group; arrow keys move within it. */
export function Choice<Value extends string | number | boolean>({
  legend,
  options,
  value,
  onChoose,
  note,
  fault,
}: ChoiceProps<Value>) {
  const id = useId();
  return (
    <fieldset class="choice" aria-describedby={fault || note ? `${id}-note` : undefined}>
      <legend>{legend}</legend>
      <div class="choice-options">
        {options.map(([option, word]) => (
          <label key={word} class="choice-option">
            <input
              type="radio"
              class="cover"
              name={id}
              checked={option === value}
              onChange={() => onChoose(option)}
            />
            <span>{word}</span>
          </label>
        ))}
      </div>
      {(fault || note) && (
        <p id={`${id}-note`} class={fault ? "fault" : "quiet"}>
          {fault ?? note}
        </p>
      )}
    </fieldset>
  );
}
