// The zones of the head, each with a bowl of its own.

import { bench_zone, lay_out } from "../../bench/bench";
import { Choice } from "../../parts/choice";
import { later } from "../../parts/later";
import { type Service, section_of, zones_of } from "../../salon/service/services";

const MOST_ZONES = 6;

const AnotherZone = later(() => import("./another").then((part) => part.AnotherZone), {
  after: true,
});

/** Returns the zones of a service as a choice, and the way to another. */
export function Zones({ service }: { service: Service }) {
  const zones = zones_of(service.id);
  const now = zones.find(({ id }) => id === bench_zone.value) ?? zones[0];
  return (
    <>
      {zones.length > 1 && (
        <Choice
          legend="Zone"
          options={zones.map(({ id, name }) => [id, name ?? ""] as const)}
          value={now?.id}
          onChoose={(id) => {
            const zone = zones.find((one) => one.id === id);
            if (zone) void lay_out(id, section_of(zone));
          }}
        />
      )}
      {(zones.length < MOST_ZONES || (now && !now.first_section_at)) && (
        // Laying out another zone folds it again.
        <details key={now?.id}>
          <summary>Another zone, or a lightener</summary>
          <AnotherZone service={service} now={now} room={zones.length < MOST_ZONES} />
        </details>
      )}
    </>
  );
}
