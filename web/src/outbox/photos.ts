// Photos, kept apart from the operations that name them by their SHA-256.
import { put_photo_by } from "./copy";
import { with_database, write_at_once } from "./database";
import { sha256_hex } from "./sha256";

/** Keeps a photo and returns its SHA-256 in hex, once it is on the phone. */
export async function keep_blob(blob: Blob): Promise<string> {
  const bytes = await blob.arrayBuffer();
  const sha256 = await sha256_hex(bytes);
  // As bytes: some browsers have lost Blobs that were kept as Blobs.
  const row = { bytes, type: blob.type };
  await write_at_once(["blobs"], (writing) => writing.objectStore("blobs").put(row, sha256));
  await put_photo_by(sha256, blob.type, bytes);
  return sha256;
}

/** Returns a photo by its SHA-256, or undefined if it is not on this phone. */
export async function blob_of(sha256: string): Promise<Blob | undefined> {
  const kept = await with_database((opened) => opened.get("blobs", sha256));
  return kept && new Blob([kept.bytes], { type: kept.type });
}
