// The strip's own steps, for a thumb that would rather tap than drag.
import { Steps } from "../../parts/steps";
import { best_minute, look_at, minute_shown, minutes_shown } from "./actions";

/** Returns a minute back, the best one, and a minute on. */
export function Minutes() {
  const minutes = minutes_shown.value;
  const best = best_minute.value;
  const at = minute_shown.value;
  const to = (minute: number) => (minutes.includes(minute) ? () => look_at(minute) : undefined);
  const earlier = to(at - 1);
  const later = to(at + 1);
  const best_tap = best === undefined ? undefined : to(best);
  return (
    <Steps label="Minutes">
      <button type="button" disabled={!earlier} onClick={earlier}>
        −1 min
      </button>
      <button type="button" class="step-main" disabled={!best_tap} onClick={best_tap}>
        {best !== undefined
          ? `Best: ${best}`
          : minutes.length > 0
            ? "No best minute"
            : "No strip yet"}
      </button>
      <button type="button" disabled={!later} onClick={later}>
        +1 min
      </button>
    </Steps>
  );
}
