// A field of a record that is not of its type: it is kept, does not show, and can be taken away.
import { address_of } from "../../place";
import { misfit } from "../../records/checked";
import { kind_words, merge_of, type Write } from "../../records/fold";
import { state_of } from "../../records/read";
import type { Entity, Kind, Writing } from "../../records/shapes";
import { change, remove } from "../../records/write";
import { field_words, who_and_when } from "./words";

/** Returns each field of a record that cannot be read, with what ends it. */
export function UnreadFields({ record }: { record: Entity }) {
  const { kind, id, unread = {} } = record;
  const fields = Object.entries(unread);
  // Nobody writes such a field a second time, so the whole record goes.
  const fixed = fields.some(([field]) => merge_of(kind, field) === "fixed");
  return (
    <>
      {fields.map(([field, writes]) => (
        <UnreadField key={field} kind={kind} id={id} field={field} writes={writes} />
      ))}
      {fixed && (
        <button type="button" onClick={() => void remove(kind, id)}>
          Delete this {kind_words(kind)}
        </button>
      )}
    </>
  );
}

interface FieldProps {
  kind: Kind;
  id: string;
  field: string;
  writes: readonly Write[];
}

function UnreadField({ kind, id, field, writes }: FieldProps) {
  const rule = merge_of(kind, field);
  const guards = rule === "safety";
  return (
    <>
      {writes.map((write) => {
        const place = misfit(kind, field, write.v);
        return (
          <div key={write.op} class="stack">
            <p>
              Its {field_words(field)} cannot be read{place ? ` at ${place}` : ""}.{" "}
              {guards ? "It counts as the most careful answer." : "It is kept and does not show."}{" "}
              <span class="quiet">{who_and_when(write)}</span>
            </p>
            <details>
              <summary>What it says</summary>
              <pre class="stood">{JSON.stringify(write.v, null, 1)}</pre>
            </details>
          </div>
        );
      })}
      {guards && (
        <a class="button" href={address_of("client", id)}>
          Ask the client again
        </a>
      )}
      {!guards && rule !== "fixed" && (
        <button type="button" onClick={() => void take_away(kind, id, field)}>
          Take the {field_words(field)} away
        </button>
      )}
    </>
  );
}

/** Leaves what can be read in the field, or nothing. */
async function take_away(kind: Kind, id: string, field: string): Promise<void> {
  const heads = state_of(id)?.fields[field]?.heads ?? [];
  const right = heads.filter(({ v }) => misfit(kind, field, v) === null).at(-1);
  await change(kind, id, { [field]: right?.v ?? null } as Writing<Kind>);
}
