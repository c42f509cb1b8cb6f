// What a named person puts a name under: who, as what, what they saw, and why.
import { Choice } from "../choice";
import { TextField } from "../text";
import { Who } from "../who";
import { ROLES } from "../who/roles";
import "./style.css";

/** What is entered so far; empty where nothing is. */
export interface Signing {
  by: string;
  role: string;
  saw: string;
  why: string;
}

interface SignedProps {
  /** What the form is for, as the line that opens it. */
  opens: string;
  who: string;
  /** The names to choose from. */
  names: readonly string[];
  /** The roles that may do it. */
  roles: readonly string[];
  /** The label over the reason. */
  reason: string;
  kept: string;
  act: string;
  typed: Signing;
  onType: (typed: Signing) => void;
  /** Takes all four once each says something, without blanks at their ends. */
  onKeep: (signed: Signing) => void;
}

/** Returns the form, one tap away. Without one of the four nothing can be kept. */
export function Signed({
  opens,
  who,
  names,
  roles,
  reason,
  kept,
  act,
  typed,
  onType,
  onKeep,
}: SignedProps) {
  // Where one role alone may do it, nobody has to choose.
  const role = typed.role || (roles.length === 1 ? (roles[0] ?? "") : "");
  const signed = {
    by: typed.by.trim(),
    role,
    saw: typed.saw.trim(),
    why: typed.why.trim(),
  };
  const whole = Object.values(signed).every(Boolean);
  return (
    <details>
      <summary>{opens}</summary>
      <div class="stack">
        <Who
          legend={who}
          names={names}
          value={typed.by}
          onName={(by) => onType({ ...typed, by })}
        />
        <Choice
          legend="As"
          options={roles.map((one) => [one, ROLES[one] ?? one] as const)}
          value={role || undefined}
          onChoose={(as) => onType({ ...typed, role: as })}
        />
        <TextField
          label="What you saw"
          value={typed.saw}
          onType={(saw) => onType({ ...typed, saw })}
        />
        <TextField label={reason} value={typed.why} onType={(why) => onType({ ...typed, why })} />
        <p class="quiet">{kept}</p>
        <button
          type="button"
          class="signed-act"
          disabled={!whole}
          onClick={() => whole && onKeep(signed)}
        >
          {act}
        </button>
      </div>
    </details>
  );
}
