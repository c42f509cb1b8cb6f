// An entry that the desk refused: read it, change it, send it again, save it, or delete it.
import { useState } from "preact/hooks";
import { let_go, send_again, type tray } from "../../courier/tray";
import { useTyped } from "../../device/typed";
import { TextField } from "../../parts/text";
import { kind_words, parts_of } from "../../records/fold";
import { together } from "../../records/write";

type Row = (typeof tray.value)[number];

/** Returns one refused entry. */
export function NotTaken({ row }: { row: Row }) {
  const { op, message, id } = row;
  const [changed, put, forget] = useTyped("refused", id, { fields: {} as Record<string, unknown> });
  const fields = { ...op?.fields, ...changed.fields };
  const [going, go] = useState(false);
  const written = Object.entries(fields).filter(([, v]) => typeof v === "string" && !is_id(v));
  return (
    <article class="stack look">
      <h3>{op ? `Refused: ${kind_words(parts_of(op).of)}` : "Refused"}</h3>
      <p>{message}</p>
      {op && row.way_on !== "nothing" && (
        <>
          {written.map(([name, v]) => (
            <TextField
              key={name}
              label={name.replaceAll("_", " ")}
              value={v as string}
              mostLength={2000}
              onType={(typed) => put({ fields: { ...changed.fields, [name]: typed } })}
            />
          ))}
          <button
            type="button"
            onClick={() =>
              void send_again(id, fields)
                .then(() => settled(id, "sent again"))
                .then(forget)
            }
          >
            Send it again
          </button>
          <button type="button" onClick={() => save(row)}>
            Save as a file
          </button>
        </>
      )}
      {going ? (
        <button
          type="button"
          onClick={() => void let_go(id).then(() => settled(id, "deleted on the phone"))}
        >
          Yes, delete for good
        </button>
      ) : (
        <button type="button" onClick={() => (op ? go(true) : void let_go(id))}>
          {op ? "Delete it" : "I have read this"}
        </button>
      )}
    </article>
  );
}

/** The desk lists its refusals until somebody decides; here they have. */
async function settled(id: string, why: string): Promise<void> {
  const fields = { why, at: new Date().toISOString() };
  await together([{ do: "create", kind: "closing", id, fields }], null);
}

function is_id(v: unknown): boolean {
  return typeof v === "string" && /^[0-9a-f]{8}-[0-9a-f-]{27}$/.test(v);
}

function save(row: Row): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify(row)], { type: "application/json" }));
  link.download = "basinside-not-taken.json";
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
