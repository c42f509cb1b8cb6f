// Who did, read or decided something: one tap for a known name, else typed once.
import { useState } from "preact/hooks";
import { Choice } from "../choice";
import { TextField } from "../text";

const ANOTHER = "another name";
const MOST_LENGTH = 60;

interface WhoProps {
  legend: string;
  /** The names to tap. */
  names: readonly string[];
  value: string;
  onName: (name: string) => void;
}

/** Returns the names to choose from, and a field for a new one. */
export function Who({ legend, names, value, onName }: WhoProps) {
  const [typing, type] = useState(names.length === 0 || (value !== "" && !names.includes(value)));
  return (
    <>
      {names.length > 0 && (
        <Choice
          legend={legend}
          options={[...names, ANOTHER].map((one) => [one, one] as const)}
          value={typing ? ANOTHER : value}
          onChoose={(one) => {
            type(one === ANOTHER);
            onName(one === ANOTHER ? "" : one);
          }}
        />
      )}
      {typing && (
        <TextField
          label={`${legend}, by name`}
          value={value}
          onType={onName}
          mostLength={MOST_LENGTH}
        />
      )}
    </>
  );
}
