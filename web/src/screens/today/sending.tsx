// The state of the sending, and what somebody should look at; quiet while all is well.
import { clock_warning, sending, sending_words } from "../../courier/state";
import { tray } from "../../courier/tray";
import { address_of } from "../../place";
import { everything_to_look_at } from "../../records/read";

/** Returns the line. */
export function SendingLine() {
  const now = sending.value;
  const to_look_at = everything_to_look_at.value.length + tray.value.length;
  const warning = clock_warning(now);
  return (
    <div class="stack sending" role="status">
      <p class="quiet">{sending_words(now)}</p>
      {warning && <p class="quiet">{warning}</p>}
      {to_look_at > 0 && (
        <a class="button" href={address_of("look")}>
          Needs a look: {to_look_at}
        </a>
      )}
    </div>
  );
}
