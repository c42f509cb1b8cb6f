// Sends photos to the desk after the records that name them, and never in their way. Fetches a
// missing photo when somebody looks at it.

import type { PhotoAsked, PhotosMissing } from "../api/shapes";
import { with_database, write_at_once } from "../outbox/database";
import { blob_of, keep_blob } from "../outbox/photos";
import { sha256_hex } from "../outbox/sha256";
import { call, Trouble } from "./call";
import { type Caller, caller } from "./position";

/** The photos that are at the desk for certain, in one of its histories. */
interface Settled {
  epoch: string;
  sha256s: string[];
}

const SETTLED = "photos_settled";
/** Faults that no later try cures: the bytes, their kind or their size. */
const HOPELESS = [400, 413, 422];

let asked_last = "";
let sending: Promise<number> | undefined;

/** Sends the photos that the desk lacks; returns how many. Throws `Trouble`. */
export function send_photos(): Promise<number> {
  sending ??= send_what_is_missing().finally(() => {
    sending = undefined;
  });
  return sending;
}

async function send_what_is_missing(): Promise<number> {
  const here = await caller();
  if (!here) return 0;
  const { pairing, position } = here;
  const unsettled = await not_settled(position.epoch);
  // The answer changes only after a photo was kept or a record was sent.
  const asking = [pairing.device_id, position.epoch, position.acked_through, ...unsettled].join();
  if (unsettled.length === 0 || asking === asked_last) return 0;
  let sent = 0;
  for (const sha256 of await missing_of(here, new Set(unsettled))) {
    const kept = await with_database((opened) => opened.get("blobs", sha256));
    if (!kept) continue;
    const { type, bytes } = kept;
    const { device_id, token } = pairing;
    const body = { v: 1, device_id, sha256, type, bytes: base64_of(new Uint8Array(bytes)) };
    try {
      await call("/api/sync/photos", { token, body });
    } catch (why) {
      // Its record was erased meanwhile, or it is no photo: the others go on.
      const goes_on = why instanceof Trouble && (why.code === "not_named" || is_hopeless(why));
      if (!goes_on) throw why;
      continue;
    }
    await settle(position.epoch, sha256);
    sent += 1;
  }
  asked_last = asking;
  return sent;
}

function is_hopeless({ status }: Trouble): boolean {
  return HOPELESS.includes(status);
}

/** Returns a photo, from this phone or from the desk; undefined if neither has it in reach. */
export async function photo_of(sha256: string): Promise<Blob | undefined> {
  const kept = await blob_of(sha256);
  const here = kept ? undefined : await caller();
  if (!here) return kept;
  try {
    const query = new URLSearchParams({ sha256 });
    const { photo } = await call<PhotoAsked>(`/api/sync/photo?${query}`, here.pairing);
    if (!photo) return undefined;
    const bytes = Uint8Array.from(atob(photo.bytes), (letter) => letter.charCodeAt(0));
    if ((await sha256_hex(bytes)) !== sha256) return undefined;
    const blob = new Blob([bytes], { type: photo.type });
    // A full phone shows it all the same.
    await keep_blob(blob).then(
      () => settle(here.position.epoch, sha256),
      () => undefined,
    );
    return blob;
  } catch {
    return undefined;
  }
}

async function not_settled(epoch: string): Promise<string[]> {
  return with_database(async (opened) => {
    const reading = opened.transaction(["meta", "blobs"]);
    const [settled, here] = await Promise.all([
      reading.objectStore("meta").get(SETTLED) as Promise<Settled | undefined>,
      reading.objectStore("blobs").getAllKeys(),
    ]);
    // A desk that was put back from a copy may have lost any of them.
    const known = new Set(settled?.epoch === epoch ? settled.sha256s : []);
    return here.filter((sha256) => !known.has(sha256));
  });
}

async function settle(epoch: string, sha256: string): Promise<void> {
  await write_at_once(["meta"], async (writing) => {
    const meta = writing.objectStore("meta");
    const settled = (await meta.get(SETTLED)) as Settled | undefined;
    const before = settled?.epoch === epoch ? settled.sha256s : [];
    await meta.put({ epoch, sha256s: [...before, sha256] }, SETTLED);
  });
}

/** Returns the photos on this phone that the desk lacks. */
async function missing_of({ pairing }: Caller, here: ReadonlySet<string>): Promise<string[]> {
  const found: string[] = [];
  for (let after: string | null = ""; after !== null; ) {
    const query: string = after && `?${new URLSearchParams({ after })}`;
    const page: PhotosMissing = await call(`/api/sync/photos/missing${query}`, pairing);
    found.push(...page.missing.filter((sha256) => here.has(sha256)));
    after = page.next;
  }
  return found;
}

function base64_of(bytes: Uint8Array): string {
  let text = "";
  // In pieces: a call takes only so many arguments.
  for (let at = 0; at < bytes.length; at += 8192) {
    text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  }
  return btoa(text);
}
