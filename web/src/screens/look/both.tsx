// One record that two have written without seeing each other's: nothing of either is gone.
import { useState } from "preact/hooks";
import { TextField } from "../../parts/text";
import { time_of_day } from "../../parts/words";
import { caution_of, kind_words, merge_of, type Write } from "../../records/fold";
import { one } from "../../records/read";
import type { Entity, Kind, Writing } from "../../records/shapes";
import { day_words } from "../../records/when";
import { who_words } from "../../records/who";
import { change, clear, remove, restore } from "../../records/write";

/** Returns the record's fields with several writings, or the delete that had not seen an edit. */
export function BothSides({ record }: { record: Entity }) {
  const { kind, id, heads = {} } = record;
  const name = (record as { name?: string }).name ?? client_of(record);
  return (
    <article class="stack look" aria-label={`${kind_words(kind)} ${name}`}>
      <h3>
        {kind_words(kind)}
        {name && `: ${name}`}
      </h3>
      {record.edited_meanwhile && (
        <>
          <p>Somebody deleted this, and had not seen what somebody else wrote on it meanwhile.</p>
          <button type="button" onClick={() => void restore(kind, id)}>
            Bring it back
          </button>
          <button type="button" onClick={() => void remove(kind, id)}>
            Leave it deleted
          </button>
        </>
      )}
      {!record.edited_meanwhile &&
        Object.entries(heads).map(([field, writes]) => (
          <Sides key={field} kind={kind} id={id} field={field} writes={writes} />
        ))}
    </article>
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
      <p>
        Two have written its {field.replaceAll("_", " ")} without seeing each other’s. Which holds?
      </p>
      {values.map((write) => (
        <button key={write.op} type="button" class="side" onClick={() => keep(write)}>
          <strong>{value_words(write.v)}</strong>
          <span>{who_and_when(write)}</span>
        </button>
      ))}
      {guarded && <p class="quiet">Until it is decided, the more careful one counts.</p>}
      {lowering && (
        <Lowering
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
function Lowering({ words, onWhy }: { words: string; onWhy: (why: string) => void }) {
  const [why, put] = useState("");
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault();
        if (why.trim()) onWhy(why.trim());
      }}
    >
      <TextField
        label={`“${words}” is less careful. Why may it hold?`}
        value={why}
        onType={put}
        note="Your words are kept with it."
      />
      <button type="submit" disabled={!why.trim()}>
        It holds
      </button>
    </form>
  );
}

function caution_of_write(guarded: boolean, field: string, v: unknown): number {
  return guarded ? caution_of(field, v) : 0;
}

function client_of(record: Entity): string {
  const { client } = record as { client?: string };
  return client ? (one("client", client).value?.name ?? "") : "";
}

function value_words(v: unknown): string {
  if (v === null || v === "") return "nothing";
  return typeof v === "string" ? v.replaceAll("_", " ") : JSON.stringify(v);
}

/** Returns who wrote it and when: "Ana’s phone, Sat 28 Nov, 14:02". */
function who_and_when({ by, eff, clock }: Write): string {
  const time = eff.slice(0, 24);
  const marked = clock === "off" ? " by a clock that is wrong" : "";
  return `${who_words(by)}, ${day_words(time)}, ${time_of_day(Date.parse(time))}${marked}`;
}
