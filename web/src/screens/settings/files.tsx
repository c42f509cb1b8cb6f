// Records out of this phone and in again: everything as one file, and tables to read.
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { put_away, unpacked, waiting_file } from "../../device/shared";
import { FileButton } from "../../parts/file";
import { TextField } from "../../parts/text";
import type { Said } from "./filing";

const passphrase = signal("");
const said = signal<Said>({ words: "", fault: false });
const busy = signal(false);

const TABLES = ["Clients", "Formulas", "Notes"] as const;

/** Returns the ways out of this phone and in. */
export function RecordFiles() {
  const { words, fault } = said.value;
  const save = () =>
    void doing("Putting the file together…", (filing) => filing.save_everything(passphrase.value));
  const bring_in = (file: File) =>
    doing("Reading the file…", (filing) => filing.bring_in(file, passphrase.value));
  const shared = waiting_file("records");
  const part = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (shared) part.current?.scrollIntoView();
  }, [shared?.form]);
  return (
    <div ref={part} class="stack" id="files">
      <h3>Your records as a file</h3>
      <p>Save everything on this phone as one file. Keep it safe, or import it on another phone.</p>
      <TextField
        label="Passphrase"
        value={passphrase.value}
        onType={(typed) => {
          passphrase.value = typed;
        }}
        note="Without one, anyone with the file can read it. We cannot reset it."
      />
      <button type="button" disabled={busy.value} onClick={save}>
        Save everything as a file
      </button>
      {shared && (
        <button
          type="button"
          disabled={busy.value}
          onClick={async () => {
            await bring_in(unpacked(shared));
            if (!said.peek().fault) put_away(shared);
          }}
        >
          {`Import ${shared.name}`}
        </button>
      )}
      <FileButton label="Import a file" disabled={busy.value} onFile={bring_in} />
      <p role={fault ? "alert" : "status"}>{words}</p>
      <h3>Tables for a spreadsheet</h3>
      <p class="quiet">To read and to print. You cannot import a table.</p>
      {TABLES.map((name) => (
        <button
          key={name}
          type="button"
          onClick={() => void doing("", (filing) => filing.save_table(name))}
        >
          {name}
        </button>
      ))}
    </div>
  );
}

/** Does what the filing can, which is loaded at the first tap that needs it. */
async function doing(
  meanwhile: string,
  work: (filing: typeof import("./filing")) => Promise<Said>,
): Promise<void> {
  busy.value = true;
  said.value = { words: meanwhile, fault: false };
  const filing = await import("./filing").catch(() => undefined);
  said.value = filing ? await work(filing) : { words: NOT_LOADED, fault: true };
  busy.value = false;
}

const NOT_LOADED = "This part of the page did not load. Check the signal, then try again.";
