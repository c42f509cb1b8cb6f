// Writes everything on this phone out at once, and reads it in at once.
import { read_stamp, seen } from "./clock";
import { write_copy_anew } from "./copy";
import { with_database, write_at_once } from "./database";
import { type Device, new_device } from "./device";
import type { Operation } from "./operation";
import type { InTray } from "./position";
import { sent_after } from "./sent";

export interface Photo {
  sha256: string;
  type: string;
  bytes: ArrayBuffer;
}

/** The parts of this phone's store that go into a file. */
export interface Whole {
  device_id: string;
  base: unknown[];
  operations: Operation[];
  tray: { id: string; row: InTray }[];
  photos: Photo[];
}

/** Returns all of it, as of one moment. */
export async function read_whole(): Promise<Whole> {
  return with_database(async (opened) => {
    const reading = opened.transaction(["meta", "base", "outbox", "sent", "tray", "blobs"]);
    const [device, base, sent, outbox, tray_ids, tray, blob_ids, blobs] = await Promise.all([
      reading.objectStore("meta").get("device"),
      reading.objectStore("base").getAll(),
      sent_after(reading.objectStore("sent"), 0),
      reading.objectStore("outbox").getAll(),
      reading.objectStore("tray").getAllKeys(),
      reading.objectStore("tray").getAll(),
      reading.objectStore("blobs").getAllKeys(),
      reading.objectStore("blobs").getAll(),
    ]);
    return {
      device_id: (device as Device | undefined)?.device_id ?? "",
      base,
      operations: [...sent.map(({ op }) => op), ...outbox],
      tray: tray.map((row, at) => ({ id: tray_ids[at] as string, row })),
      photos: blobs.map((blob, at) => ({ sha256: blob_ids[at] as string, ...blob })),
    };
  });
}

/** How much of a file was new to this phone. */
export interface TakenIn {
  operations: number;
  photos: number;
  known: number;
}

// How far ahead of this phone's clock a stamp may be and still move it.
const MOST_AHEAD_MS = 5 * 60_000;

/**
 * Takes all of it, in one transaction, and returns what was new. An operation that is here already
 * is left alone, so the same file twice adds nothing. A new one gets a number of this phone, which
 * will send it, and keeps its own id, author and stamp.
 */
export async function take_whole_in(whole: Whole): Promise<TakenIn> {
  const stores = ["meta", "base", "outbox", "sent", "tray", "blobs"] as const;
  const taken_in = await write_at_once(stores, async (writing) => {
    const meta = writing.objectStore("meta");
    const base = writing.objectStore("base");
    const outbox = writing.objectStore("outbox");
    const tray = writing.objectStore("tray");
    const blobs = writing.objectStore("blobs");
    const [device, waiting, sent, in_tray, in_base, in_blobs] = await Promise.all([
      meta.get("device"),
      outbox.getAll(),
      sent_after(writing.objectStore("sent"), 0),
      tray.getAllKeys(),
      base.getAllKeys(),
      blobs.getAllKeys(),
    ]);
    const put = (request: Promise<unknown>) => void request.catch(() => undefined);

    let { device_id, device_seq, clock } = (device as Device | undefined) ?? new_device();
    const known = new Set([
      ...[...waiting, ...sent.map(({ op }) => op)].map(({ op_id }) => op_id),
      ...in_tray,
    ]);
    const [before, latest_ms] = [device_seq, Date.now() + MOST_AHEAD_MS];
    for (const op of whole.operations) {
      if (known.has(op.op_id)) continue;
      known.add(op.op_id);
      device_seq += 1;
      const stamp = read_stamp(op.hlc);
      const orig = op.orig ?? { device_id: stamp.device_id, device_seq: op.device_seq };
      if (stamp.at_ms <= latest_ms) clock = seen(clock, op.hlc);
      put(outbox.put({ ...op, device_seq, orig }, device_seq));
    }
    put(meta.put({ device_id, device_seq, clock }, "device"));

    for (const { id, row } of whole.tray) if (!known.has(id)) put(tray.put(row, id));
    const based = new Set(in_base);
    for (const row of whole.base as { id: string }[]) {
      if (!based.has(row.id)) put(base.put(row, row.id));
    }
    const had = new Set(in_blobs);
    const photos = whole.photos.filter(({ sha256 }) => !had.has(sha256));
    for (const { sha256, type, bytes } of photos) put(blobs.put({ bytes, type }, sha256));

    const operations = device_seq - before;
    return { operations, photos: photos.length, known: whole.operations.length - operations };
  });
  // Operations without room there are stored when the page next opens.
  await write_copy_anew().catch(() => undefined);
  return taken_in;
}
