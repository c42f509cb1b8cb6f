// Who did or decided something: a name known on this phone, or a new one.
import { Choice } from "../../parts/choice";
import { TextField } from "../../parts/text";
import { all } from "../../records/read";

/** Returns the names known here to tap, and a field for another. */
export function Person({
  legend,
  value,
  onChoose,
}: {
  legend: string;
  value: string;
  onChoose: (name: string) => void;
}) {
  const names = [...new Set(all("person").value.flatMap(({ name }) => name || []))];
  return (
    <>
      {names.length > 0 && (
        <Choice
          legend={legend}
          options={names.map((name) => [name, name] as const)}
          value={value}
          onChoose={onChoose}
        />
      )}
      <TextField
        label={names.length > 0 ? "Or another name" : `${legend}, by name`}
        value={names.includes(value) ? "" : value}
        onType={onChoose}
      />
    </>
  );
}
