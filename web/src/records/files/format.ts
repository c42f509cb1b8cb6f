// The file that holds everything on a phone: gzip of lines of JSON, with a passphrase if you like.
//   {"format": "basinside records", "version": 1, "device_id": …, "written_at": …, "counts": {…}}
//   {"base": …} · {"op": …} · {"tray": …, "id": …} · {"photo": base64, "sha256": …, "type": …}
//   {"sha256": of every byte before this line, "lines": how many there were}
// With a passphrase, all of that is encrypted behind one line that says how (sealed.ts).

export const FORMAT = "basinside records";
export const VERSION = 1;

/** Thrown if a file cannot be imported; says where it is wrong and what to do. */
export class BadFile extends Error {}

export interface Header {
  format: string;
  version: number;
  device_id: string;
  written_at: string;
  counts: Counts;
}

export interface Counts {
  base: number;
  operations: number;
  tray: number;
  photos: number;
}

// A salon's year is a few megabytes, its photos some tens more. Past this something is wrong, and a
// phone would run out of memory.
export const MOST_FILE_BYTES = 128 * 1024 * 1024;
export const MOST_UNPACKED_BYTES = 256 * 1024 * 1024;

/** Returns bytes as base64. */
export function to_base64(bytes: Uint8Array): string {
  let text = "";
  // In pieces, since a call takes only so many arguments.
  for (let at = 0; at < bytes.length; at += 0x8000) {
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  }
  return btoa(text);
}

/** Returns the bytes of a base64 text; throws if it is not one. */
export function from_base64(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
}
