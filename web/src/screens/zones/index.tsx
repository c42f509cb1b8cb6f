// Which hair of the head is spoken of: its zones, each with a bowl of its own.
import { Choice } from "../../parts/choice";
import { bench_zone, lay_out } from "../../records/bench";
import { add_zone, type Service, zones_of } from "../../records/services";

const MOST_ZONES = 6;
const NAMES = ["roots", "lengths", "ends", "front", "foils", "beard"] as const;

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
          onChoose={(id) => void lay_out(id, "hair")}
        />
      )}
      {zones.length < MOST_ZONES && (
        <details>
          <summary>Another zone, with a bowl of its own</summary>
          <div class="stack">
            <Choice
              legend="It starts as this one; change what differs"
              options={free.map((name) => [name, name] as const)}
              value={undefined}
              onChoose={async (name) => {
                const id = await add_zone(service.id, name, now);
                await lay_out(id, "hair");
              }}
            />
          </div>
        </details>
      )}
    </>
  );
}
