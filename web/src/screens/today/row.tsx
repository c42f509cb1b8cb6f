// One service of a day: when, who, and how far it is.
import { date_words } from "../../device/when";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import { progress_words } from "../../salon/service/progress";
import { client_name, type Service } from "../../salon/service/services";
import { standing_words } from "../../salon/service/standing";
import { held_today } from "./held";

interface RowProps {
  service: Service;
  /** Whether its day is over: then it says what came of it. */
  past?: boolean;
  /** Whether it is shown on a later day than its own. */
  since?: boolean;
}

/** The widest times that this language writes, so that every row's name begins in one line. */
function widest_times() {
  const at = (hour: number) => time_of_day(new Date(2026, 0, 1, hour).getTime());
  return { "data-morning": at(10), "data-evening": at(22) };
}

/** Returns the row. */
export function Row({ service, past = false, since = false }: RowProps) {
  const planned = service.planned_at ?? "";
  const words =
    past || service.not_done ? standing_words(service, Date.now()) : progress_words(service);
  const held = past ? undefined : held_today.value.get(service.id);
  return (
    <a class="day-row" href={address_of("service", service.id)}>
      <strong class="day-time" {...widest_times()}>
        {time_of_day(Date.parse(planned))}
      </strong>
      <span class="day-name">
        {client_name(service) || "no name yet"}
        {held && (
          <>
            {" "}
            <strong class="day-held">Held</strong>
          </>
        )}
      </span>
      <span class="quiet">
        {held ?? (since ? `since ${date_words(planned)} · ${words}` : words)}
      </span>
    </a>
  );
}
