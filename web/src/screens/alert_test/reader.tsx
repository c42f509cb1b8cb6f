// Who read it: one tap for a name used before, else typed once.
import { useState } from "preact/hooks";
import { Choice } from "../../parts/choice";
import { TextField } from "../../parts/text";
import { reader_names } from "../../records/alert_tests";

const ANOTHER = "another name";

/** Returns the names to choose from, and a field for one that is not among them. */
export function Reader({ name, onName }: { name: string; onName: (name: string) => void }) {
  const names = reader_names.value;
  const [typing, type] = useState(names.length === 0);
  return (
    <div class="stack">
      {names.length > 0 && (
        <Choice
          legend="Read by"
          options={[...names, ANOTHER].map((one) => [one, one] as const)}
          value={typing ? ANOTHER : name}
          onChoose={(one) => {
            type(one === ANOTHER);
            onName(one === ANOTHER ? "" : one);
          }}
        />
      )}
      {typing && (
        <TextField label="Name of who read it" value={name} onType={onName} mostLength={60} />
      )}
    </div>
  );
}
