// Where on the head a mix goes: the scalp, until somebody says otherwise.
import { Choice } from "../../parts/choice";
import type { Entity } from "../../records/shapes";
import { change } from "../../records/write";
import { is_mixed } from "../../salon/service/lightening";
import { zones_of } from "../../salon/service/services";

type Area = NonNullable<Entity<"zone">["area"]>;

const AREAS: readonly (readonly [Area, string])[] = [
  ["scalp", "the scalp"],
  ["lengths", "lengths only"],
  ["off_scalp_foil", "foils off the scalp"],
  ["beard", "the beard"],
  ["brows", "the brows"],
  ["lashes", "the lashes"],
];

/** Returns each zone that has not begun, with its place, under one tap. */
export function Where({ service }: { service: Entity<"service"> }) {
  const waiting = zones_of(service.id).filter((zone) => is_mixed(zone) && !zone.first_section_at);
  if (waiting.length === 0) return null;
  const said = new Set(waiting.map(({ area = "scalp" }) => words_of(area)));
  return (
    <details>
      <summary>Goes on {[...said].join(", ")}</summary>
      <div class="stack">
        {waiting.map(({ id, name = "", area = "scalp" }) => (
          <Choice
            key={id}
            legend={`Where it goes: ${name}`}
            options={AREAS}
            value={area}
            onChoose={(value) => void change("zone", id, { area: value }, "Where it goes: set.")}
          />
        ))}
      </div>
    </details>
  );
}

function words_of(area: Area): string {
  return AREAS.find(([known]) => known === area)?.[1] ?? "the scalp";
}
