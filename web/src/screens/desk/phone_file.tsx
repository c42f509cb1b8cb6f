// Imports the file of a phone that cannot send: shows what was new, and what was skipped.
import { signal } from "@preact/signals";
import type { Imported } from "../../api/shapes";
import { bring_in_at_the_server } from "../../courier/bring_in";
import { Trouble } from "../../courier/call";
import { counted } from "../../parts/counted";
import { FileButton } from "../../parts/file";
import { TextField } from "../../parts/text";
import { BadFile } from "../../records/files/format";

const passphrase = signal("");
const busy = signal(false);
/** The result of the last file, or why it failed; empty before. */
const came = signal<Imported | string>("");

/** Returns the import of a phone's file, and its result. */
export function PhoneFile() {
  const told = came.value;
  return (
    <div class="stack">
      <p>
        For a phone that cannot send. Save everything as a file in its Settings, then choose the
        file here. Nothing is doubled.
      </p>
      <TextField
        label="Its passphrase"
        value={passphrase.value}
        onType={(typed) => {
          passphrase.value = typed;
        }}
        note="Only if it was saved with one."
      />
      <FileButton label="Choose the file" disabled={busy.value} onFile={take} />
      {busy.value && <p role="status">Reading the file…</p>}
      {typeof told === "string" ? told && <p role="alert">{told}</p> : <Came told={told} />}
    </div>
  );
}

async function take(file: File): Promise<void> {
  busy.value = true;
  came.value = "";
  try {
    came.value = await bring_in_at_the_server(file, passphrase.value);
    passphrase.value = "";
  } catch (why) {
    if (!(why instanceof Trouble || why instanceof BadFile)) throw why;
    came.value = `${why.message} Nothing was imported.`;
  } finally {
    busy.value = false;
  }
}

function Came({ told }: { told: Imported }) {
  const { refused, waiting } = told;
  return (
    <>
      <p role="status">{came_words(told)}</p>
      {refused.length > 0 && (
        <>
          <p>We skipped these. Keep the file.</p>
          <ul class="rows">
            {refused.map(({ line, pointer, message }) => (
              <li key={`${line} ${pointer}`} class="row">
                <strong>{message}</strong>
                <span class="quiet">
                  Line {line}, {pointer}
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
      {waiting > 0 && (
        <p>{counted(waiting, "entry", "entries")} in it need a look on the phone itself.</p>
      )}
    </>
  );
}

/** Returns "12 entries imported, with 2 photos. 3 entries were here already." */
function came_words({ accepted, known, records, photos }: Imported): string {
  if (accepted + records + photos === 0) return "All of this file was here already.";
  const more = photos > 0 ? `, with ${counted(photos, "photo")}` : "";
  const lost = records > 0 ? ` ${counted(records, "record")} were lost here and came back.` : "";
  const before = known > 0 ? ` ${counted(known, "entry", "entries")} were here already.` : "";
  return `${counted(accepted, "entry", "entries")} imported${more}.${lost}${before}`;
}
