// Another zone with its own bowl, and what goes on the one that is laid out.
import { lay_out } from "../../bench/bench";
import { Choice } from "../../parts/choice";
import { type Service, type Zone, zones_of } from "../../salon/service/services";
import { add_zone, put_work } from "../../salon/service/zone_acts";

const NAMES = ["roots", "lengths", "ends", "front", "foils", "beard"] as const;

const WORK = [
  ["toner", "a toner or colour"],
  ["lightener", "a lightener"],
] as const;

interface AnotherZoneProps {
  service: Service;
  /** The zone that is laid out. */
  now: Zone | undefined;
  /** Whether a head may have one more. */
  room: boolean;
}

/** Returns the choice of what goes on, until it is on, and of another zone while there is room. */
export function AnotherZone({ service, now, room }: AnotherZoneProps) {
  const zones = zones_of(service.id);
  const free = NAMES.filter((name) => zones.every((zone) => zone.name !== name));
  return (
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
      {room && (
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
  );
}
