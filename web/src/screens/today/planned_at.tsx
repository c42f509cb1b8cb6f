// When a service is planned, and while it has not begun, the way to another day or to call it off.
import { date_words } from "../../device/when";
import { later } from "../../parts/later";
import { time_of_day } from "../../parts/words";
import type { Service } from "../../salon/service/services";

const Move = later<{ service: Service; at_ms: number }>(
  () => import("./move").then((part) => part.Move),
  { quiet: true },
);

/** Returns the day and time, which opens to its fields until the service has begun. */
export function PlannedAt({ service }: { service: Service }) {
  const { planned_at } = service;
  if (!planned_at) return null;
  const words = `${date_words(planned_at)}, ${time_of_day(Date.parse(planned_at))}`;
  if (service.state !== "planned") return <p class="quiet">{words}</p>;
  return (
    <details class="planned-at">
      <summary>{words}</summary>
      <Move key={planned_at} service={service} at_ms={Date.parse(planned_at)} />
    </details>
  );
}
