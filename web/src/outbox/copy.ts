// A second copy of everything written on this phone, in a store outside the database.
//
// A browser killed inside a write leaves half of it at the end of its database's log. Seen in
// Chromium: the next start goes on writing behind that half. The start after it takes the log for
// broken and begins an empty database without a word. So each act is stored here as well, as a file
// in the page's cache, before the page says it is kept. When the page opens, each of the two fills
// the other's gaps.
import { seen } from "./clock";
import { with_database, write_at_once } from "./database";
import { type Device, new_device } from "./device";
import type { Operation } from "./operation";
import { sent_after } from "./sent";
import { named_here } from "./world";

const NAME = named_here("basinside second copy");
const ENTRY = /\/second-copy\/([0-9a-f-]{36})\/(\d+)-(\d+)(\/[0-9a-f-]+)?$/;
const PHOTO = /\/second-copy\/photo\/([0-9a-f]{64})$/;
// Above this many files they are written again as one.
const MOST_ENTRIES = 200;

/** A file of the copy: everything that one device holds of these numbers. */
interface Entry {
  request: Request;
  device_id: string;
  first: number;
  through: number;
}

/** Stores operations a second time. A browser without room or without such a store skips it. */
export async function put_by(device_id: string, operations: readonly Operation[]): Promise<void> {
  const [first, last] = [operations[0]?.device_seq, operations.at(-1)?.device_seq];
  if (last) await put(`/second-copy/${device_id}/${first}-${last}`, JSON.stringify(operations));
}

/** Stores a photo a second time, as `put_by` does. */
export async function put_photo_by(
  sha256: string,
  type: string,
  bytes: ArrayBuffer,
): Promise<void> {
  await put(`/second-copy/photo/${sha256}`, bytes, type);
}

async function put(at: string, body: BodyInit, type = "application/json"): Promise<void> {
  try {
    const copy = await caches.open(NAME);
    await copy.put(at, new Response(body, { headers: { "content-type": type } }));
  } catch {
    // The database has it, and that is the promise.
  }
}

/**
 * Brings database and copy to the same, and returns how many operations the database had lost. Call
 * it when the page opens, before any read.
 */
export async function put_back_lost(): Promise<number> {
  if (typeof caches === "undefined" || !(await caches.has(NAME))) return 0;
  const copy = await caches.open(NAME);
  const requests = await copy.keys();
  const entries = requests.flatMap(entry_of);
  const device = await with_database((opened) => opened.get("meta", "device"));
  const { device_id, device_seq } = (device as Device | undefined) ?? newest_of(entries);
  const mine = entries.filter((entry) => entry.device_id === device_id);
  const through = Math.max(0, ...mine.map((entry) => entry.through));
  if (through > device_seq) {
    const lost = mine.filter((entry) => entry.through > device_seq);
    const operations = await operations_in(copy, lost);
    const put_back = await take_back(device_id, operations);
    // Photos go only when everything has gone.
    if (!device) await photos_back(copy, requests);
    return put_back;
  }
  const as_it_should_be = mine.length === entries.length && mine.length <= MOST_ENTRIES;
  if (!as_it_should_be || first_missing(mine) <= device_seq) await write_copy_anew();
  return 0;
}

/**
 * Writes the copy again from the present database and nothing else: after many acts, and whenever
 * something must go for good.
 */
export async function write_copy_anew(): Promise<void> {
  if (typeof caches === "undefined") return;
  const copy = await caches.open(NAME);
  const before = await copy.keys();
  const { device, operations, photos } = await all_held();
  if (!device) return;
  const { device_id, device_seq } = device;
  if (operations.length > 0) {
    // Under a new name, so that the old files stay until the new one is complete.
    const at = `/second-copy/${device_id}/1-${device_seq}/${crypto.randomUUID()}`;
    await copy.put(at, new Response(JSON.stringify(operations)));
  }
  const [held, there] = [new Set(photos), new Set<string>()];
  for (const request of before) {
    const sha256 = PHOTO.exec(request.url)?.[1];
    if (sha256) there.add(sha256);
    const [entry] = entry_of(request);
    // The read lacks what another window has stored meanwhile.
    const stays = sha256
      ? held.has(sha256)
      : entry?.device_id === device_id && entry.through > device_seq;
    if (!stays) await copy.delete(request);
  }
  for (const sha256 of photos.filter((one) => !there.has(one))) {
    const row = await with_database((opened) => opened.get("blobs", sha256));
    if (row) await put_photo_by(sha256, row.type, row.bytes);
  }
}

function entry_of(request: Request): Entry[] {
  const [, device_id, first, through] = ENTRY.exec(request.url) ?? [];
  if (!device_id) return [];
  return [{ request, device_id, first: Number(first), through: Number(through) }];
}

/** The device that wrote last; their ids are in the order of time. */
function newest_of(entries: readonly Entry[]): { device_id: string; device_seq: number } {
  const device_id =
    entries
      .map((entry) => entry.device_id)
      .sort()
      .at(-1) ?? "";
  return { device_id, device_seq: 0 };
}

/** The lowest number that no file has. */
function first_missing(entries: readonly Entry[]): number {
  let missing = 1;
  for (const { first, through } of [...entries].sort((a, b) => a.first - b.first)) {
    if (first <= missing) missing = Math.max(missing, through + 1);
  }
  return missing;
}

/** The content of the files, each operation once, by number; an unreadable file holds nothing. */
async function operations_in(copy: Cache, entries: readonly Entry[]): Promise<Operation[]> {
  const by_number = new Map<number, Operation>();
  for (const { request } of entries) {
    try {
      const operations = (await (await copy.match(request))?.json()) as Operation[] | undefined;
      for (const op of operations ?? []) by_number.set(op.device_seq, op);
    } catch {
      // Cut off during the write, so it was never reported as kept.
    }
  }
  return [...by_number.values()].sort((a, b) => a.device_seq - b.device_seq);
}

/** Writes operations that the database lacks under their own numbers; returns how many. */
function take_back(device_id: string, operations: readonly Operation[]): Promise<number> {
  return write_at_once(["meta", "outbox"], async (writing) => {
    const meta = writing.objectStore("meta");
    const outbox = writing.objectStore("outbox");
    const device = ((await meta.get("device")) as Device | undefined) ?? {
      ...new_device(),
      device_id,
    };
    if (device.device_id !== device_id) return 0;
    const lost = operations.filter((op) => op.device_seq > device.device_seq);
    const last = lost.at(-1);
    if (!last) return 0;
    for (const op of lost) outbox.put(op, op.device_seq).catch(() => undefined);
    const clock = lost.reduce((now, op) => seen(now, op.hlc), device.clock);
    meta.put({ ...device, device_seq: last.device_seq, clock }, "device").catch(() => undefined);
    if (last.by !== device_id && !(await meta.get("writer"))) {
      meta.put(last.by, "writer").catch(() => undefined);
    }
    return lost.length;
  });
}

async function photos_back(copy: Cache, requests: readonly Request[]): Promise<void> {
  for (const request of requests) {
    const sha256 = PHOTO.exec(request.url)?.[1];
    const kept = sha256 && (await copy.match(request));
    if (!kept) continue;
    const row = { bytes: await kept.arrayBuffer(), type: kept.headers.get("content-type") ?? "" };
    await write_at_once(["blobs"], (writing) => writing.objectStore("blobs").put(row, sha256));
  }
}

function all_held() {
  return with_database(async (opened) => {
    const reading = opened.transaction(["meta", "outbox", "sent", "blobs"]);
    const [device, sent, outbox, photos] = await Promise.all([
      reading.objectStore("meta").get("device"),
      sent_after(reading.objectStore("sent"), 0),
      reading.objectStore("outbox").getAll(),
      reading.objectStore("blobs").getAllKeys(),
    ]);
    return {
      device: device as Device | undefined,
      operations: [...sent.map(({ op }) => op), ...outbox],
      photos,
    };
  });
}
