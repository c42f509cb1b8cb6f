// Records out of this phone and in again: everything as one file, and tables to read.
import { signal } from "@preact/signals";
import { counted } from "../../parts/counted";
import { FileButton } from "../../parts/file";
import { TextField } from "../../parts/text";
import { clients_csv, formulas_csv, notes_csv } from "../../records/files/csv";
import { BadFile } from "../../records/files/format";
import { take_file_in } from "../../records/files/in";
import { everything_as_file } from "../../records/files/out";

const passphrase = signal("");
const said = signal<{ words: string; fault: boolean }>({ words: "", fault: false });
const busy = signal(false);

const TABLES = [
  ["Clients", clients_csv],
  ["Formulas", formulas_csv],
  ["Notes", notes_csv],
] as const;

/** Returns the ways out of this phone and in. */
export function RecordFiles() {
  const { words, fault } = said.value;
  return (
    <div class="stack" id="files">
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
      <button type="button" disabled={busy.value} onClick={() => void save_everything()}>
        Save everything as a file
      </button>
      <FileButton label="Import a file" disabled={busy.value} onFile={bring_in} />
      <p role={fault ? "alert" : "status"}>{words}</p>
      <h3>Tables for a spreadsheet</h3>
      <p class="quiet">To read and to print. You cannot import a table.</p>
      {TABLES.map(([name, table]) => (
        <button key={name} type="button" onClick={() => save_table(name, table())}>
          {name}
        </button>
      ))}
    </div>
  );
}

async function save_everything(): Promise<void> {
  await doing("Putting the file together…", async () => {
    const file = await everything_as_file(passphrase.value);
    download(file, file.name);
    return passphrase.value
      ? `Saved as ${file.name}, locked with your passphrase.`
      : `Saved as ${file.name}. Anyone with the file can read it.`;
  });
}

async function bring_in(file: File): Promise<void> {
  await doing("Reading the file…", async () => {
    const { operations, known, photos } = await take_file_in(file, passphrase.value);
    if (operations === 0 && photos === 0) return "All of this file was on this phone already.";
    const more = photos > 0 ? `, with ${counted(photos, "photo")}` : "";
    const before = known > 0 ? ` ${counted(known, "entry", "entries")} were here already.` : "";
    return `${counted(operations, "entry", "entries")} imported${more}.${before}`;
  });
}

async function doing(meanwhile: string, work: () => Promise<string>): Promise<void> {
  busy.value = true;
  said.value = { words: meanwhile, fault: false };
  try {
    said.value = { words: await work(), fault: false };
  } catch (why) {
    const words = why instanceof BadFile ? why.message : STORE_SILENT;
    said.value = { words, fault: true };
  } finally {
    busy.value = false;
  }
}

const STORE_SILENT =
  "This phone’s store did not answer. Close Basinside’s other windows and try again.";

function save_table(name: string, table: string): void {
  // The mark at the start tells a spreadsheet that the letters are UTF-8.
  const content = new Blob(["\ufeff", table], { type: "text/csv" });
  download(content, `basinside ${name.toLowerCase()}.csv`);
}

function download(content: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(content);
  link.download = name;
  link.click();
  // The browser reads it after the click: removed at once, it may save nothing.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
