// What a screen says that cannot be drawn, and a record that was set aside, in plain words. It stays
// a record, so the safety rules still go by it.
import { open_again, put_aside } from "../../device/set_aside";
import { back } from "../../place";
import { one, records_ready, state_of } from "../../records/read";
import type { Entity, Kind } from "../../records/shapes";
import { record_words } from "../../salon/record_words";

export interface Opened {
  name: string;
  id: string;
}

const NOT_READ = new Set(["id", "kind", "by", "created_at", "heads", "unread"]);

/** Returns the record that a place shows; undefined for a place of many, or while none is read. */
function record_at({ id }: Opened): Entity | undefined {
  const kind = records_ready.value && state_of(id)?.kind;
  return kind ? one(kind as Kind, id).value : undefined;
}

/** Returns what a screen says that cannot be drawn. */
export function Broken(opened: Opened) {
  const record = record_at(opened);
  return (
    <section class="stack place" aria-labelledby="broken-heading">
      <h2 id="broken-heading">This screen does not open</h2>
      {record && <p class="broken-record">{record_words(record)}</p>}
      <p>Something in it cannot be drawn. Nothing is lost, and Help works as always.</p>
      <button type="button" onClick={back}>
        Back
      </button>
      {record && (
        <>
          <button type="button" onClick={() => put_aside(opened)}>
            Set aside
          </button>
          <p class="quiet">
            On this phone it then opens as plain text, and Needs a look lists it. The safety rules
            still go by it.
          </p>
        </>
      )}
    </section>
  );
}

/** Returns a record that was set aside, field by field. */
export function Aside(opened: Opened) {
  const record = record_at(opened);
  const fields = Object.entries(record ?? {}).filter(([name]) => !NOT_READ.has(name));
  return (
    <section class="stack place" aria-labelledby="broken-heading">
      <h2 id="broken-heading">Set aside: {record ? record_words(record) : "not on this phone"}</h2>
      <dl class="stack">
        {fields.map(([name, v]) => (
          <div key={name}>
            <dt class="quiet">{name.replaceAll("_", " ")}</dt>
            <dd class="plain-value">{typeof v === "string" ? v : JSON.stringify(v)}</dd>
          </div>
        ))}
      </dl>
      <button type="button" onClick={back}>
        Back
      </button>
      <button type="button" onClick={() => open_again(opened)}>
        Open it again
      </button>
    </section>
  );
}
