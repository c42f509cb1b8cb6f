// Imports a file, on this phone or another. It reads and checks the whole file line by line before
// it keeps anything. So a file with one bad line leaves the phone as it was.

import { read_stamp } from "../../outbox/clock";
import { is_full } from "../../outbox/database";
import { MOST_OPERATION_BYTES, type Operation } from "../../outbox/operation";
import type { InTray } from "../../outbox/position";
import { sha256_hex } from "../../outbox/sha256";
import { type TakenIn, take_whole_in, type Whole } from "../../outbox/whole";
import { SCHEMA } from "../fold";
import { look_again, open_records, tell_other_windows } from "../read";
import {
  BadFile,
  type Counts,
  FORMAT,
  from_base64,
  type Header,
  MOST_UNPACKED_BYTES,
  VERSION,
} from "./format";
import { read_packed } from "./sealed";

const FULL =
  "This phone has no room for this file, so it kept nothing. Make room, then import it again.";
const SAVE_AGAIN = "Save it again where it came from.";

/** Imports a file and returns what was new; throws BadFile and keeps nothing if it is wrong. */
export async function take_file_in(file: Blob, passphrase = ""): Promise<TakenIn> {
  const whole = await read_file(file, passphrase);
  await open_records();
  const taken = await take_whole_in(whole).catch((why: unknown) => {
    throw is_full(why) ? new BadFile(FULL) : why;
  });
  await look_again();
  tell_other_windows();
  return taken;
}

/** Returns what a file holds, once all of it has been found sound. */
async function read_file(file: Blob, passphrase: string): Promise<Whole> {
  return read_lines(await gunzip(await read_packed(file, passphrase)));
}

async function gunzip(packed: Uint8Array<ArrayBuffer>): Promise<Uint8Array<ArrayBuffer>> {
  if (packed[0] !== 0x1f || packed[1] !== 0x8b) {
    throw new BadFile("Basinside did not save this file. Choose one that ends in .records.");
  }
  const pieces: BlobPart[] = [];
  let length = 0;
  const reader = new Blob([packed])
    .stream()
    .pipeThrough(new DecompressionStream("gzip"))
    .getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      length += value.length;
      if (length > MOST_UNPACKED_BYTES) break;
      pieces.push(value as Uint8Array<ArrayBuffer>);
    }
  } catch {
    throw new BadFile(`This file is cut or was changed, ${length} bytes in. ${SAVE_AGAIN}`);
  }
  if (length > MOST_UNPACKED_BYTES) {
    await reader.cancel();
    throw new BadFile(
      `This file unpacks to more than ${MOST_UNPACKED_BYTES / 1024 / 1024} MB, which is too large. ${SAVE_AGAIN}`,
    );
  }
  return new Uint8Array(await new Blob(pieces).arrayBuffer());
}

async function read_lines(bytes: Uint8Array<ArrayBuffer>): Promise<Whole> {
  const trailer_at = bytes.lastIndexOf(0x0a, bytes.length - 2) + 1;
  const lines = new TextDecoder().decode(bytes).split("\n");
  const header = read_header(lines[0] ?? "");
  const trailer = parsed(lines.at(-2) ?? "", lines.length - 1) as { sha256?: unknown };
  if (lines.at(-1) !== "" || typeof trailer.sha256 !== "string" || "photo" in trailer) {
    throw new BadFile(`This file is cut after line ${lines.length - 1}. ${SAVE_AGAIN}`);
  }
  if ((await sha256_hex(bytes.subarray(0, trailer_at))) !== trailer.sha256) {
    throw new BadFile(`This file is not as it was saved. ${SAVE_AGAIN}`);
  }
  const whole: Whole = {
    device_id: header.device_id,
    base: [],
    operations: [],
    tray: [],
    photos: [],
  };
  for (const [at, line] of lines.slice(1, -2).entries()) await take_line(line, at + 2, whole);
  for (const [name, count] of Object.entries(header.counts)) {
    const found = whole[name as keyof Counts].length;
    if (found !== count) {
      throw new BadFile(`Line 1 promises ${count} ${name}, and there are ${found}. ${SAVE_AGAIN}`);
    }
  }
  return whole;
}

function read_header(line: string): Header {
  const header = parsed(line, 1) as Partial<Header>;
  if (header.format !== FORMAT) {
    throw new BadFile(
      "Line 1 does not say that this is a file of Basinside’s records. Choose another.",
    );
  }
  if (header.version !== VERSION) {
    throw new BadFile(
      `This file is of version ${header.version}, and this Basinside reads version ${VERSION}. Update Basinside, then import it again.`,
    );
  }
  const names = ["base", "operations", "tray", "photos"] as const;
  if (!names.every((name) => Number.isInteger(header.counts?.[name]))) {
    throw new BadFile(`Line 1 does not say how much this file holds. ${SAVE_AGAIN}`);
  }
  const { base, operations, tray, photos } = header.counts as Counts;
  return { ...(header as Header), counts: { base, operations, tray, photos } };
}

async function take_line(line: string, number: number, whole: Whole): Promise<void> {
  const row = parsed(line, number) as Record<string, unknown>;
  const wrong = (what: string) => new BadFile(`Line ${number}: ${what} ${SAVE_AGAIN}`);
  if ("op" in row) {
    const fault = fault_of(row.op, line);
    if (fault) throw wrong(fault);
    whole.operations.push(row.op as Operation);
  } else if ("tray" in row) {
    if (typeof row.id !== "string") throw wrong("a refused entry has no id.");
    whole.tray.push({ id: row.id, row: row.tray as InTray });
  } else if ("base" in row) {
    const { id, kind, fields, created } = Object(row.base);
    const sound =
      is_text(id) &&
      is_text(kind) &&
      Array.isArray(created) &&
      is_object(fields) &&
      Object.values(fields).every(
        (f) => Array.isArray(Object(f).heads) && is_object(Object(f).covered),
      );
    if (!sound) throw wrong("a record has no id, kind or fields.");
    whole.base.push(row.base);
  } else if ("photo" in row) {
    const { sha256, type } = row;
    let bytes: Uint8Array<ArrayBuffer> | undefined;
    try {
      bytes = from_base64(String(row.photo));
    } catch {
      // Reported below, like any photo that does not match its name.
    }
    if (!bytes || typeof type !== "string" || (await sha256_hex(bytes)) !== sha256) {
      throw wrong("a photo is not the one that was saved.");
    }
    whole.photos.push({ sha256: String(sha256), type, bytes: bytes.buffer });
  } else throw wrong("nothing that Basinside knows.");
}

/** Returns the fault of an operation in a file, or an empty text. */
function fault_of(given: unknown, line: string): string {
  const op = Object(given) as Partial<Operation>;
  for (const name of ["op_id", "hlc", "kind", "entity_id"] as const) {
    if (!is_text(op[name])) return `an operation has no ${name}.`;
  }
  if (typeof op.by !== "string") return "an operation has no author.";
  if (!Number.isInteger(op.schema) || !Number.isInteger(op.device_seq)) {
    return "an operation has no schema or no number.";
  }
  if (Number(op.schema) > SCHEMA) {
    return `an operation of schema ${op.schema}, and this Basinside reads up to ${SCHEMA}: update it first.`;
  }
  if (line.length > MOST_OPERATION_BYTES + 1024) return "an operation is too large.";
  if (!/^[a-z_]+\.[a-z_]+$/.test(op.kind ?? "")) return `"${op.kind}" is no kind of operation.`;
  for (const name of ["fields", "base", "from"] as const) {
    if (op[name] !== undefined && !is_object(op[name]))
      return `an operation's ${name} is no object.`;
  }
  const named = [...Object.values(op.base ?? {}), op.seen ?? []];
  if (!named.every((ids) => Array.isArray(ids) && ids.every((id) => typeof id === "string"))) {
    return "an operation does not say which writes its author saw.";
  }
  try {
    read_stamp(op.hlc as string);
  } catch (why) {
    return `${(why as Error).message}`;
  }
  return "";
}

function parsed(line: string, number: number): object {
  try {
    const row: unknown = JSON.parse(line);
    if (is_object(row)) return row as object;
  } catch {
    // Reported below, like any line that is no object.
  }
  throw new BadFile(`Line ${number} of this file is cut or was changed. ${SAVE_AGAIN}`);
}

function is_text(value: unknown): boolean {
  return typeof value === "string" && value !== "";
}

function is_object(value: unknown): boolean {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
