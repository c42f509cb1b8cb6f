// The 20 minutes of rinsing: one tap starts them. The wall clock shows beside, for a person who
// prefers it.
import { time_of_day } from "../../device/when";
import { RINSE_MIN } from "./first_aid";
import { go_on_rinsing, left_words, type Rinsed, rinsing, start_rinse, stop_rinse } from "./rinse";

/** Returns the timer of one rinse, and the next step when it is over. */
export function RinseTimer({ what }: { what: Rinsed }) {
  const rinse = rinsing.value[what];
  return (
    <div class="help-timer">
      {rinse.state === "running" && (
        <>
          <p class="help-count" role="timer" aria-label="Rinsing, time left">
            {left_words(rinse.left_ms)}
          </p>
          <p>Keep rinsing until {time_of_day(rinse.until_ms)}.</p>
          <button type="button" onClick={() => stop_rinse(what)}>
            Stop the timer
          </button>
        </>
      )}
      {rinse.state === "stopped" && (
        <>
          <p>Stopped after {left_words(rinse.rinsed_ms)}.</p>
          <button type="button" onClick={() => go_on_rinsing(what)}>
            Go on
          </button>
        </>
      )}
      <p role="status">
        {rinse.state === "over" && (
          <strong>
            {RINSE_MIN} minutes are over, since {time_of_day(rinse.until_ms)}.{" "}
            {what === "eye"
              ? "Now medical care, with the product or its label."
              : "Look at the skin. Pain, blisters, raw or numb skin: a doctor, today."}
          </strong>
        )}
      </p>
      {rinse.state !== "running" && (
        <button type="button" class="help-start" onClick={() => start_rinse(what)}>
          {rinse.state === "idle" ? `Start ${RINSE_MIN} minutes` : "Start again"}
        </button>
      )}
    </div>
  );
}
