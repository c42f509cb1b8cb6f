// What was done on this phone today, each act with the way to take it back or do it again.
import { time_of_day } from "../../parts/words";
import { act_words } from "../../records/acts";
import { day_acts, redo, undo } from "../../records/write";
import "./acts.css";

/** Returns the list under one fold, the newest act on top; nothing where nothing was done. */
export function DayActs() {
  const acts = day_acts.value;
  if (acts.length === 0) return null;
  return (
    <details class="day-acts">
      <summary>Done on this phone today: {acts.length}</summary>
      <ul>
        {acts.toReversed().map((act) => (
          <li key={act.id}>
            <span class="day-acts-time">{time_of_day(act.at_ms)}</span>
            <span>{act.undone ? <s>{act_words(act)}</s> : act_words(act)}</span>
            <button
              type="button"
              aria-label={`${act.undone ? "Redo" : "Undo"}: ${act_words(act)}`}
              onClick={() => void (act.undone ? redo(act.id) : undo(act.id))}
            >
              {act.undone ? "Redo" : "Undo"}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}
