// Who has a service that several phones work on, and the one tap that takes it over.
import { time_of_day } from "../../parts/words";
import { is_paired, one } from "../../records/read";
import { in_hands, take_over } from "../../salon/service/in_hands";
import { who_words } from "../../salon/who";
import "./style.css";

/** Returns the line of a service; nothing while the person who planned it here has it. */
export function Whose({ service: id }: { service: string }) {
  const service = one("service", id).value;
  if (!service || !is_paired.value) return null;
  const { of, mine, taken } = in_hands(service);
  if (mine && !taken) return null;
  const at = taken && time_of_day(Date.parse(taken.at));
  const from = taken && taken.from !== of ? ` from ${who_words(taken.from)}` : "";
  const words = !taken
    ? `${who_words(of)} has this service.`
    : mine
      ? `Taken over by you${from}, ${at}.`
      : `Taken over by ${who_words(of)}${from}, ${at}.`;
  return (
    <section class="whose" aria-label="Who has this service">
      <p role="status">{words}</p>
      {!mine && service.state !== "ended" && (
        <button type="button" onClick={() => void take_over(service)}>
          Take it over
        </button>
      )}
    </section>
  );
}
