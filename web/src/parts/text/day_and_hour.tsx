// A day, and its hour where that is known, by the phone's own pickers.

/** As the phone's clock shows them, "YYYY-MM-DD" and "HH:MM"; empty while not chosen. */
export interface DayAndHour {
  day: string;
  hour: string;
}

interface DayAndHourProps {
  label: string;
  value: DayAndHour;
  /** The last day there is to choose. */
  last: string;
  onType: (value: DayAndHour) => void;
  fault?: string | undefined;
}

/** Returns both fields, and under them what is wrong. */
export function DayAndHourField({ label, value, last, onType, fault }: DayAndHourProps) {
  return (
    <fieldset class="day-and-hour">
      <legend>{label}</legend>
      <label class="text-field">
        <span>Day</span>
        <input
          type="date"
          max={last}
          value={value.day}
          onInput={({ currentTarget }) => onType({ ...value, day: currentTarget.value })}
        />
      </label>
      <label class="text-field">
        <span>Hour, if it is there</span>
        <input
          type="time"
          value={value.hour}
          onInput={({ currentTarget }) => onType({ ...value, hour: currentTarget.value })}
        />
      </label>
      {fault && (
        <p class="fault" role="status">
          {fault}
        </p>
      )}
    </fieldset>
  );
}
