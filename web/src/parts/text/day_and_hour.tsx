// A day, and its hour if known, by the phone's own pickers.

/** As the phone's clock shows them, "YYYY-MM-DD" and "HH:MM"; empty while not chosen. */
export interface DayAndHour {
  day: string;
  hour: string;
}

interface DayAndHourProps {
  label: string;
  value: DayAndHour;
  /** The last day to choose. */
  last: string;
  /** Days that one tap chooses: words and the day. */
  usual?: readonly (readonly [words: string, day: string])[];
  onType: (value: DayAndHour) => void;
  fault?: string | undefined;
}

/** Returns both fields, and under them what is wrong. */
export function DayAndHourField(props: DayAndHourProps) {
  const { label, value, last, usual = [], onType, fault } = props;
  return (
    <fieldset class="day-and-hour">
      <legend>{label}</legend>
      <div class="day-usual">
        {usual.map(([words, day]) => (
          <button
            key={words}
            type="button"
            aria-pressed={value.day === day}
            onClick={() => onType({ ...value, day })}
          >
            {words}
          </button>
        ))}
      </div>
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
