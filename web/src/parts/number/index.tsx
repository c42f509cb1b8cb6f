// The three numbers of a colour reading, typed on a keypad of our own size or on a keyboard.
import { useEffect, useId, useRef, useState } from "preact/hooks";
import "./style.css";

type Three = [string, string, string];

interface LabFieldProps {
  legend: string;
  value: Three;
  onType: (value: Three) => void;
  faults: readonly (string | undefined)[];
}

const NAMES = ["L*", "a*", "b*"] as const;
const SPAN = ["0 to 100", "−128 to 127", "−128 to 127"] as const;
const KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "±", "0", "."] as const;

/** Returns the text after a key: a sign flips, a second point is ignored. */
export function typed(text: string, key: (typeof KEYS)[number] | "⌫"): string {
  if (key === "⌫") return text.slice(0, -1);
  if (key === "±") return text.startsWith("-") ? text.slice(1) : `-${text}`;
  if (key === "." && text.includes(".")) return text;
  return text.length < 7 ? text + key : text;
}

/** Returns keyboard text with comma and minus sign as a number has them. */
function plain(text: string): string {
  return text.replace(",", ".").replace("−", "-").slice(0, 7);
}

/** Returns the three fields, and the keypad under them while somebody types one. */
export function LabField({ legend, value, onType, faults }: LabFieldProps) {
  const id = useId();
  const [place, setPlace] = useState<number | null>(null);
  const keys = useRef<HTMLDivElement>(null);
  // The bar at the bottom of the page must not cover the keys that have just come up.
  useEffect(() => {
    if (place !== null) keys.current?.scrollIntoView({ block: "nearest" });
  }, [place]);
  const put = (at: number, text: string) => onType(value.with(at, text) as Three);
  return (
    <fieldset class="lab-field">
      <legend>{legend}</legend>
      <div class="lab-numbers">
        {NAMES.map((name, at) => (
          <label key={name}>
            <span>{name}</span>
            <input
              type="text"
              inputMode="none"
              autocomplete="off"
              value={value[at]}
              aria-invalid={faults[at] !== undefined}
              aria-describedby={faults[at] && `${id}-${at}`}
              data-active={place === at}
              onFocus={() => setPlace(at)}
              onInput={(event) => put(at, plain(event.currentTarget.value))}
            />
            <span class="quiet">{SPAN[at]}</span>
          </label>
        ))}
      </div>
      {NAMES.map(
        (name, at) =>
          faults[at] && (
            <p key={name} id={`${id}-${at}`} class="fault">
              {faults[at]}
            </p>
          ),
      )}
      {place !== null && (
        <div ref={keys} class="keypad" role="group" aria-label={`Keys for ${NAMES[place]}`}>
          {KEYS.map((key) => (
            <button
              key={key}
              type="button"
              aria-label={key === "±" ? "plus or minus" : key}
              onClick={() => put(place, typed(value[place] ?? "", key))}
            >
              {key}
            </button>
          ))}
          <button
            type="button"
            aria-label="delete the last digit"
            onClick={() => put(place, typed(value[place] ?? "", "⌫"))}
          >
            ⌫
          </button>
          <button
            type="button"
            class="keypad-next"
            onClick={() => setPlace(place < 2 ? place + 1 : null)}
          >
            {place < 2 ? `Next: ${NAMES[place + 1]}` : "Done"}
          </button>
        </div>
      )}
    </fieldset>
  );
}
