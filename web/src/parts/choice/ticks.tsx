// Several of a few, by tapping their words: native checkboxes, as large as a gloved thumb.

import "./style.css";

interface TicksProps {
  legend: string;
  options: readonly (readonly [string, string])[];
  chosen: readonly string[];
  onChange: (chosen: string[]) => void;
}

/** Returns the group. */
export function Ticks({ legend, options, chosen, onChange }: TicksProps) {
  return (
    <fieldset class="choice">
      <legend>{legend}</legend>
      <div class="choice-options">
        {options.map(([option, word]) => (
          <label key={option} class="choice-option">
            <input
              type="checkbox"
              class="cover"
              checked={chosen.includes(option)}
              onChange={({ currentTarget }) => {
                const others = chosen.filter((other) => other !== option);
                onChange(currentTarget.checked ? [...others, option] : others);
              }}
            />
            <span>{word}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
