// Takes a file that another program shares, with no network: it is in the strict store before the
// page opens, so nothing is lost if the phone kills the page in between.
import { SHARED, type SharedFile } from "./from_worker";

/** The field of the manifest's share target that carries files. */
const FILES = "file";
// A long video is no photo, and the page reads all of it at once.
const MOST_BYTES = 32 * 1024 * 1024;
const DATABASE = "basinside";
const DRAFTS = "drafts";

/** Where the page goes afterwards. */
export const SHARED_PLACE = `/#/${SHARED}`;
/** The same where the phone had no room, or the file is too large. */
export const NOT_KEPT_PLACE = `${SHARED_PLACE}/not-kept`;

/** Keeps the files of a share and returns the address of the page that shows them. */
export async function keep_shared(request: Request): Promise<string> {
  try {
    const form = await request.formData();
    const files = form.getAll(FILES).filter((entry) => entry instanceof File);
    await keep_files(files);
    return SHARED_PLACE;
  } catch {
    return NOT_KEPT_PLACE;
  }
}

/** Returns a file as it is kept. Throws where it is too large to be handed over. */
export async function packed(file: File): Promise<SharedFile> {
  if (file.size > MOST_BYTES) throw new RangeError("too large");
  const { name, type } = file;
  return { kind: kind_of(name, type), name, type, data: base64(await file.arrayBuffer()) };
}

/** Returns what a file is, by its media type or the end of its name. */
export function kind_of(name: string, type: string): SharedFile["kind"] {
  if (type.startsWith("image/")) return "photo";
  if (/\.records$/i.test(name)) return "records";
  if (/\.(ics|csv)$/i.test(name) || /^text\/(calendar|csv)/.test(type)) return "day";
  return "other";
}

/** Returns the name that a shared file's form has; each share has one of its own. */
export function shared_form(now_ms: number, at: number): string {
  return `${SHARED} ${now_ms} ${at}`;
}

async function keep_files(files: readonly File[]): Promise<void> {
  const now_ms = Date.now();
  const rows: [key: string, text: string][] = [];
  for (const [at, file] of files.entries()) {
    rows.push([`form/${shared_form(now_ms, at)}/anybody`, JSON.stringify(await packed(file))]);
  }
  if (rows.length === 0) return;
  const opened = await open();
  try {
    await new Promise<void>((done, refused) => {
      const writing = opened.transaction(DRAFTS, "readwrite", { durability: "strict" });
      writing.oncomplete = () => done();
      writing.onabort = () => refused(writing.error);
      for (const [key, text] of rows) writing.objectStore(DRAFTS).put(text, key);
    });
  } finally {
    opened.close();
  }
}

/** The page's own store, of which the page alone decides the shape: it must be there. */
function open(): Promise<IDBDatabase> {
  return new Promise((done, refused) => {
    const opening = indexedDB.open(DATABASE);
    opening.onupgradeneeded = () => opening.transaction?.abort();
    opening.onerror = () => refused(opening.error);
    opening.onsuccess = () => done(opening.result);
  });
}

function base64(bytes: ArrayBuffer): string {
  const all = new Uint8Array(bytes);
  let text = "";
  // In pieces, since a call takes only so many arguments.
  for (let at = 0; at < all.length; at += 0x8000) {
    text += String.fromCharCode(...all.subarray(at, at + 0x8000));
  }
  return btoa(text);
}
