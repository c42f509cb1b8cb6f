// The zones of the head, each with a bowl of its own.

import { bench_zone, lay_out } from "../../bench/bench";
import { Choice } from "../../parts/choice";
import {
  add_zone,
  put_work,
  type Service,
  section_of,
  zones_of,
} from "../../salon/service/services";

const MOST_ZONES = 6;
const NAMES = ["roots", "lengths", "ends", "front", "foils", "beard"] as const;

const WORK = [
  ["toner", "a toner or colour"],
  ["lightener", "a lightener"],
] as const;

/** Returns the zones of a service as a choice, and the way to another. */
export function Zones({ service }: { service: Service }) {
  const zones = zones_of(service.id);
  const now = zones.find(({ id }) => id === bench_zone.value) ?? zones[0];
  const free = NAMES.filter((name) => zones.every((zone) => zone.name !== name));
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
          <div class="stack">
            {now && !now.first_section_at && (
              <Choice
                legend={`What goes on: ${now.name ?? ""}`}
                options={WORK}
                value={now.work ?? "toner"}
                onChoose={(work) => void put_work(now, work)}
                note={now.work === "lightener" ? "It gets a clock but no promised colour." : ""}
              />
            )}
            {zones.length < MOST_ZONES && (
              <Choice
                legend="Another zone with its own bowl. It starts like this one"
                options={free.map((name) => [name, name] as const)}
                value={undefined}
                onChoose={async (name) => {
                  const id = await add_zone(service.id, name, now);
                  await lay_out(id, "hair");
                }}
              />
            )}
          </div>
        </details>
      )}
    </>
  );
}
