// The desk: the running services, and what needs a look. The same records as on any phone, more at
// once.
import { useLayoutEffect } from "preact/hooks";
import { date_words, day_of } from "../../device/when";
import { ClockLine } from "../../parts/clock";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import { listed_on } from "../../salon/service/day";
import { progress_words } from "../../salon/service/progress";
import { now_ms, running } from "../../salon/service/running";
import { client_name } from "../../salon/service/services";
import { who_words } from "../../salon/who";
import { Beside } from "./beside";
import { ToLookAt } from "./matters";
import { Phones } from "./phones";
import "./style.css";

export { Beside };

/** Returns the floor: the clocks, the first due on top, and the services of `day`, "YYYY-MM-DD". */
export function Floor({ day }: { day: string }) {
  // Before the paint: a person who sees the field may press the key.
  useLayoutEffect(() => {
    const to_search = (event: KeyboardEvent) => {
      const typing = (event.target as HTMLElement).matches("input, textarea, select");
      if (event.key !== "/" || typing) return;
      event.preventDefault();
      document.querySelector<HTMLInputElement>(".desk-search input")?.focus();
    };
    addEventListener("keydown", to_search);
    return () => removeEventListener("keydown", to_search);
  }, []);
  const services = listed_on(day, Date.now());
  return (
    <section class="stack desk" aria-labelledby="floor-heading">
      <h2 id="floor-heading">Floor</h2>
      {running.value.map(({ zone, service, client_name: name, zone_name, due }, at) => (
        <ClockLine
          key={zone}
          name={`${name}, ${zone_name}`}
          words={due.words}
          at_ms={due.at_ms}
          now_ms={now_ms.value}
          href={address_of("service", service)}
          first={at === 0}
        />
      ))}
      {running.value.length === 0 && <p class="quiet">Nobody is in a chair.</p>}
      {services.length === 0 && <p class="quiet">Running services show here.</p>}
      <table class="desk-table" hidden={services.length === 0}>
        <thead>
          <tr>
            <th scope="col">Time</th>
            <th scope="col">Client</th>
            <th scope="col">Who</th>
            <th scope="col">Now</th>
          </tr>
        </thead>
        <tbody>
          {services.map((service) => (
            <tr key={service.id}>
              <td>{time_of_day(Date.parse(service.planned_at ?? ""))}</td>
              <td>
                <a href={address_of("service", service.id)}>{client_name(service) || "no name"}</a>
              </td>
              <td>{who_words(service.person ?? service.by)}</td>
              <td>
                {day_of(Date.parse(service.planned_at ?? "")) < day &&
                  `since ${date_words(service.planned_at ?? "")} · `}
                {progress_words(service)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <ToLookAt />
      <Phones />
    </section>
  );
}
