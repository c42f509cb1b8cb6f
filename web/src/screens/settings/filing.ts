// Writes and reads the files of Settings. Loaded at the first tap: the library of tables is heavy.
import { counted } from "../../parts/counted";
import { clients_csv, formulas_csv, notes_csv } from "../../records/files/csv";
import { BadFile } from "../../records/files/format";
import { take_file_in } from "../../records/files/in";
import { everything_as_file } from "../../records/files/out";

/** What is said under the buttons. */
export interface Said {
  words: string;
  fault: boolean;
}

const TABLES = { Clients: clients_csv, Formulas: formulas_csv, Notes: notes_csv };

const STORE_SILENT =
  "This phone’s store did not answer. Close Basinside’s other windows and try again.";

/** Saves all that this phone holds as one file. */
export function save_everything(passphrase: string): Promise<Said> {
  return in_words(async () => {
    const file = await everything_as_file(passphrase);
    download(file, file.name);
    return passphrase
      ? `Saved as ${file.name}, locked with your passphrase.`
      : `Saved as ${file.name}. Anyone with the file can read it.`;
  });
}

/** Imports a file that this or another phone saved. */
export function bring_in(file: File, passphrase: string): Promise<Said> {
  return in_words(async () => {
    const { operations, known, photos } = await take_file_in(file, passphrase);
    if (operations === 0 && photos === 0) return "All of this file was on this phone already.";
    const more = photos > 0 ? `, with ${counted(photos, "photo")}` : "";
    const before = known > 0 ? ` ${counted(known, "entry", "entries")} were here already.` : "";
    return `${counted(operations, "entry", "entries")} imported${more}.${before}`;
  });
}

/** Saves one kind of record as a table. */
export function save_table(name: keyof typeof TABLES): Promise<Said> {
  return in_words(async () => {
    // The mark at the start tells a spreadsheet that the letters are UTF-8.
    const content = new Blob(["\ufeff", TABLES[name]()], { type: "text/csv" });
    download(content, `basinside ${name.toLowerCase()}.csv`);
    return "";
  });
}

async function in_words(work: () => Promise<string>): Promise<Said> {
  try {
    return { words: await work(), fault: false };
  } catch (why) {
    return { words: why instanceof BadFile ? why.message : STORE_SILENT, fault: true };
  }
}

function download(content: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(content);
  link.download = name;
  link.click();
  // The browser reads it after the click: removed at once, it may save nothing.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
