// Keeps the engine's pieces on this device. Each is kept as soon as it is here, so that an
// interrupted download goes on where it stopped. The service worker hands out the scripts, which
// the browser loads by address.
import type { Pack, Piece } from "./pack";

const PREFIX = "engine ";
const TESTED = "tested";
const AT_ONCE = 3;

const CUT_SHORT = "The download of the engine was interrupted. The next try goes on.";
const MISSING = "A file of the engine is missing. Ask the person who runs the server.";

export interface Kept {
  /** The files of the pack by name. */
  files: Map<string, Blob>;
  /** Whether all of it is kept on this device, and not only in memory. */
  all_kept: boolean;
  /** Whether this pack has passed the whole self-test here before. */
  tested: boolean;
  /** Notes that it has. */
  note_tested: () => Promise<void>;
}

/**
 * Returns the files of a pack; fetches the missing pieces over the network.
 *
 * `say` hears how many bytes are there or have come, as they are sent. Throws in words.
 */
export async function files_of(pack: Pack, say: (bytes: number) => void): Promise<Kept> {
  const cache = await globalThis.caches?.open(PREFIX + pack.folder).catch(() => undefined);
  const pieces = pack.files.flatMap((file) => file.pieces);
  const there = new Map<string, Blob>();
  let all_kept = cache !== undefined;
  let bytes = 0;
  const have = (piece: Piece, content: Blob) => {
    there.set(piece.name, content);
    bytes += piece.sent_bytes;
    say(bytes);
  };
  const [tested] = await Promise.all([
    cache?.match(pack.folder + TESTED),
    ...pieces.map(async (piece) => {
      const content = await (await cache?.match(pack.folder + piece.name))?.blob();
      if (content?.size === piece.bytes) have(piece, content);
    }),
  ]);
  const missing = pieces.filter(({ name }) => !there.has(name));
  let broken_off = false;
  const fetch_next = async () => {
    for (let piece = missing.shift(); piece && !broken_off; piece = missing.shift()) {
      const address = pack.folder + piece.name;
      const content = await fetched(address, piece.bytes).catch((why: unknown) => {
        broken_off = true;
        throw why;
      });
      // Without room to keep it, it still works now.
      all_kept = (await keep(cache, address, content)) && all_kept;
      have(piece, content);
    }
  };
  // Waits for all before it reports a failure. The worker ends then, and the other pieces on their
  // way would have to come over the same weak signal again.
  const ends = await Promise.allSettled(Array.from({ length: AT_ONCE }, fetch_next));
  const failed = ends.find((end) => end.status === "rejected");
  if (failed) throw failed.reason;
  const files = pack.files.map(({ name, pieces }) => {
    const contents = pieces.map((piece) => there.get(piece.name) as Blob);
    return [name, new Blob(contents, { type: contents[0]?.type ?? "" })] as const;
  });
  return {
    files: new Map(files),
    all_kept,
    tested: tested !== undefined,
    note_tested: async () => {
      await keep(cache, pack.folder + TESTED, new Blob());
    },
  };
}

/** Returns whether the pack that this page uses is kept here and has passed its self-test. */
export async function was_tested(): Promise<boolean> {
  try {
    const response = await fetch("/engine.json");
    if (!response.ok) return false;
    const { folder, files }: Pack = await response.json();
    const name = PREFIX + folder;
    if (!(await caches.has(name))) return false;
    const cache = await caches.open(name);
    const pieces = files.flatMap((file) => file.pieces.map((piece) => piece.name));
    const there = await Promise.all([TESTED, ...pieces].map((one) => cache.match(folder + one)));
    return there.every((one) => one !== undefined);
  } catch {
    return false;
  }
}

/** Deletes every pack but this one. */
export async function drop_other_packs({ folder }: Pack): Promise<void> {
  for (const name of (await globalThis.caches?.keys()) ?? []) {
    if (name.startsWith(PREFIX) && name !== PREFIX + folder) await caches.delete(name);
  }
}

async function fetched(address: string, bytes: number): Promise<Blob> {
  let content: Blob;
  try {
    const response = await fetch(address);
    if (!response.ok) throw new Error(MISSING);
    content = await response.blob();
  } catch (why) {
    if (why instanceof Error && why.message === MISSING) throw why;
    throw new Error(CUT_SHORT, { cause: why });
  }
  if (content.size !== bytes) throw new Error(CUT_SHORT);
  return content;
}

async function keep(cache: Cache | undefined, address: string, content: Blob): Promise<boolean> {
  if (!cache) return false;
  try {
    await cache.put(address, new Response(content, { headers: { "content-type": content.type } }));
    return true;
  } catch {
    return false;
  }
}
