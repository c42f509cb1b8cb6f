// Keeps a formula under a name that is filled in already.
import { useState } from "preact/hooks";
import { useTyped } from "../../device/typed";
import { TextField } from "../../parts/text";
import { address_of } from "../../place";

interface KeepFormulaProps {
  /** The zone whose formula it is; empty for a mix that was tried out. */
  about: string;
  /** What it is called unless another name is typed. */
  usual: string;
  keep: (name: string) => Promise<string>;
}

/** Returns the step; once kept it says so and leads to the formula. */
export function KeepFormula({ about, usual, keep }: KeepFormulaProps) {
  const [typed, type, forget] = useTyped<string | null>("formula", about, null);
  const [kept, say] = useState("");
  const [fault, put_fault] = useState("");
  if (kept) {
    return (
      <p role="status">
        Kept. <a href={address_of("formula", kept)}>Open the formula</a>.
      </p>
    );
  }
  const name = typed ?? usual;
  const on = async () => {
    try {
      say(await keep(name.trim()));
      forget();
    } catch (why) {
      put_fault(why instanceof Error ? why.message : String(why));
    }
  };
  return (
    <details>
      <summary>Keep this formula</summary>
      <div class="stack">
        <TextField label="Name" value={name} onType={type} fault={fault} />
        <button type="button" disabled={!name.trim()} onClick={() => void on()}>
          Keep it
        </button>
      </div>
    </details>
  );
}
