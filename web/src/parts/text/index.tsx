// One line of typed text, as large as the rest; kept when you leave it.
import { useId } from "preact/hooks";
import "./style.css";

interface TextFieldProps {
  label: string;
  value: string;
  onType?: (value: string) => void;
  /** Called when typing is done: on leaving the field, or with Enter. */
  onDone?: (value: string) => void;
  /** Called on leaving the field, changed or not. */
  onLeave?: (value: string) => void;
  note?: string;
  fault?: string | undefined;
  inputMode?: "text" | "decimal";
  mostLength?: number;
}

/** Returns the field with its label above it. */
export function TextField({
  label,
  value,
  onType,
  onDone,
  onLeave,
  note,
  fault,
  inputMode = "text",
  mostLength = 120,
}: TextFieldProps) {
  const id = useId();
  return (
    <label class="text-field">
      <span>{label}</span>
      <input
        type="text"
        inputMode={inputMode}
        autocomplete="off"
        maxLength={mostLength}
        value={value}
        aria-invalid={Boolean(fault)}
        aria-describedby={fault || note ? `${id}-note` : undefined}
        onInput={(event) => onType?.(event.currentTarget.value)}
        onChange={(event) => onDone?.(event.currentTarget.value)}
        onBlur={(event) => onLeave?.(event.currentTarget.value)}
      />
      {(fault || note) && (
        <span id={`${id}-note`} class={fault ? "fault" : "quiet"}>
          {fault || note}
        </span>
      )}
    </label>
  );
}
