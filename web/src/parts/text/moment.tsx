// A day and a time, by the phone's own picker.

interface MomentProps {
  label: string;
  /** As the phone's clock shows it, "YYYY-MM-DDTHH:MM"; empty while nothing is chosen. */
  value: string;
  onType: (value: string) => void;
}

/** Returns the field. */
export function MomentField({ label, value, onType }: MomentProps) {
  return (
    <label class="text-field">
      <span>{label}</span>
      <input
        type="datetime-local"
        value={value}
        onInput={(event) => onType(event.currentTarget.value)}
      />
    </label>
  );
}
