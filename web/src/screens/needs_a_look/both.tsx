// One record that two people wrote without seeing each other's write: both versions are kept. Or
// one with a field that cannot be read.
import { useState } from "preact/hooks";
import { useTyped } from "../../device/typed";
import { TextField } from "../../parts/text";
import { caution_of, merge_of, type Write } from "../../records/fold";
import { state_of } from "../../records/read";
import type { Entity, Kind, Writing } from "../../records/shapes";
import { unseen_of } from "../../records/show";
import { change, clear, remove, restore } from "../../records/write";
import { record_words } from "../../salon/record_words";
import { UnreadFields } from "./unread";
import { field_words, value_words, who_and_when } from "./words";

/**
 * Returns the record's fields with several writes, the deletion that had not seen an edit, and the
 * fields that cannot be read.
 */
export function BothSides({ record }: { record: Entity }) {
  const { kind, id, heads = {} } = record;
  return (
    <article class="stack look" aria-label={record_words(record).replace(":", "")}>
      <h3>{record_words(record)}</h3>
      {record.edited_meanwhile && <DeletedUnseen record={record} />}
      {!record.edited_meanwhile &&
        Object.entries(heads).map(([field, writes]) => (
          <Sides key={field} kind={kind} id={id} field={field} writes={writes} />
        ))}
      {!record.edited_meanwhile && record.unread && <UnreadFields record={record} />}
    </article>
  );
}

/** A deletion, with the later write and its author: hidden until somebody decides. */
function DeletedUnseen({ record: { kind, id } }: { record: Entity }) {
  const state = state_of(id);
  const { deletions, edits } = state ? unseen_of(state) : { deletions: [], edits: [] };
  return (
    <>
      {deletions.map((write) => (
        <p key={write.op}>
          <strong>Deleted</strong> <span class="quiet">{who_and_when(write)}</span>
        </p>
      ))}
      <p>It was deleted without this newer entry:</p>
      {edits.map(([field, write]) => (
        <p key={`${field} ${write.op}`}>
          <strong>
            {field_words(field)}: {value_words(write.v)}
          </strong>{" "}
          <span class="quiet">{who_and_when(write)}</span>
        </p>
      ))}
      <button type="button" onClick={() => void restore(kind, id)}>
        Bring it back
      </button>
      <button type="button" onClick={() => void remove(kind, id)}>
        Leave it deleted
      </button>
    </>
  );
}

interface SidesProps {
  kind: Kind;
  id: string;
  field: string;
  writes: readonly Write[];
}

function Sides({ kind, id, field, writes }: SidesProps) {
  const [lowering, lower] = useState<Write>();
  const guarded = merge_of(kind, field) === "safety";
  const most = Math.max(...writes.map(({ v }) => caution_of_write(guarded, field, v)));
  const values = [...new Map(writes.map((write) => [JSON.stringify(write.v), write])).values()];
  const keep = (write: Write) => {
    if (caution_of_write(guarded, field, write.v) < most) lower(write);
    else void change(kind, id, { [field]: write.v } as Writing<Kind>);
  };
  return (
    <>
      <p>Two people wrote its {field_words(field)} apart. Which one is right?</p>
      <div class="sides">
        {values.map((write) => (
          <button key={write.op} type="button" class="side" onClick={() => keep(write)}>
            <strong>{value_words(write.v)}</strong>
            <span>{who_and_when(write)}</span>
          </button>
        ))}
      </div>
      {guarded && <p class="quiet">Until you decide, the more careful one counts.</p>}
      {lowering && (
        <Lowering
          about={id}
          field={field}
          words={value_words(lowering.v)}
          onWhy={(why) => {
            const saw = values.map(({ v }) => value_words(v)).join(", ");
            void clear(kind, id, { [field]: lowering.v } as Writing<Kind>, saw, why);
          }}
        />
      )}
    </>
  );
}

/** What is less careful takes a reason, which is kept with it. */
function Lowering({
  about,
  field,
  words,
  onWhy,
}: {
  about: string;
  field: string;
  words: string;
  onWhy: (why: string) => void;
}) {
  const [why, put, forget] = useTyped(`why ${field}`, about, "");
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault();
        if (!why.trim()) return;
        onWhy(why.trim());
        forget();
      }}
    >
      <TextField
        label={`“${words}” is less careful. Why is it right?`}
        value={why}
        onType={put}
        note="We keep your reason with it."
      />
      <button type="submit" disabled={!why.trim()}>
        Keep this one
      </button>
    </form>
  );
}

function caution_of_write(guarded: boolean, field: string, v: unknown): number {
  return guarded ? caution_of(field, v) : 0;
}
