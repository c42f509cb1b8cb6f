// Keeps the engine's pieces on this device. Each is kept as soon as it is here, so that an
// interrupted download goes on where it stopped. A kept piece is checked at every start: a killed
// phone may have left half a write. The service worker hands out the scripts, which the browser
// loads by address.
import { fetch_piece, is_whole } from "./fetch_piece";
import { is_tested_here, PREFIX, TESTED } from "./kept_here";
import type { Pack, Piece } from "./pack";

const AT_ONCE = 3;
/** A link that brings one piece so soon may bring several at once. */
const SOON_MS = 5_000;

/** How far a pack is here. */
export interface Here {
  /** Bytes that are here or have come, as they are sent. */
  bytes: number;
  /** Whether something comes over the network: it was not here, or is damaged. */
  fetches: boolean;
  /** Whether a part that was kept here is damaged, and comes again. */
  damaged: boolean;
}

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
 * Returns the files of a pack; fetches the missing and the damaged pieces over the network.
 *
 * It tells `say` how much is here, each time a part comes. Throws in words, as `fetch_piece`.
 */
export async function files_of(pack: Pack, say: (here: Here) => void): Promise<Kept> {
  const cache = await globalThis.caches?.open(PREFIX + pack.folder).catch(() => undefined);
  const tested = await is_tested_here(pack);
  const gathered = new Gathered(pack, cache, say);
  await gathered.take_kept();
  await gathered.fetch_missing();
  return {
    files: gathered.files(),
    all_kept: gathered.all_kept,
    tested,
    note_tested: async () => {
      await keep(cache, pack.folder + TESTED, new Blob());
    },
  };
}

/** The pieces of a pack, as they are found here or come. */
class Gathered {
  all_kept: boolean;
  private readonly pieces: Piece[];
  private readonly there = new Map<Piece, Blob>();
  private readonly damaged = new Set<Piece>();
  private readonly come_bytes = new Map<Piece, number>();
  private missing: Piece[] = [];
  private readonly lanes: Promise<void>[] = [];
  private broken_off = false;

  constructor(
    private readonly pack: Pack,
    private readonly cache: Cache | undefined,
    private readonly say: (here: Here) => void,
  ) {
    this.all_kept = cache !== undefined;
    this.pieces = pack.files.flatMap((file) => file.pieces);
  }

  /** Takes what is kept here and whole; deletes what is damaged. */
  async take_kept(): Promise<void> {
    await Promise.all(
      this.pieces.map(async (piece) => {
        const address = this.pack.folder + piece.name;
        const kept = await this.cache?.match(address);
        if (!kept) return;
        const content = await kept.blob().catch(() => undefined);
        if (content && (await is_whole(piece, content))) return this.have(piece, content);
        this.damaged.add(piece);
        // The service worker would hand it out again.
        await this.cache?.delete(address);
      }),
    );
    this.missing = this.pieces.filter((piece) => !this.there.has(piece));
  }

  /** Fetches the rest, and keeps each piece as soon as it is here. */
  async fetch_missing(): Promise<void> {
    if (this.missing.length === 0) return;
    // One piece at a time on a slow link: several that share it are all lost where it breaks off.
    this.lanes.push(this.fetch_next());
    // Waits for all before it reports a failure. The worker ends then, and the other pieces on their
    // way would have to come over the same weak signal again.
    for (let ended = 0; ended < this.lanes.length; ) {
      ended = this.lanes.length;
      await Promise.allSettled(this.lanes);
    }
    await Promise.all(this.lanes);
  }

  /** Returns the files of the pack by name. */
  files(): Map<string, Blob> {
    return new Map(
      this.pack.files.map(({ name, pieces }) => {
        const contents = pieces.map((piece) => this.there.get(piece) as Blob);
        return [name, new Blob(contents, { type: contents[0]?.type ?? "" })] as const;
      }),
    );
  }

  private async fetch_next(): Promise<void> {
    for (
      let piece = this.missing.shift();
      piece && !this.broken_off;
      piece = this.missing.shift()
    ) {
      const begun_ms = performance.now();
      const content = await this.fetched(piece);
      // Without room to keep it, it still works now.
      const kept = await keep(this.cache, this.pack.folder + piece.name, content);
      this.all_kept = kept && this.all_kept;
      this.have(piece, content);
      if (performance.now() - begun_ms > SOON_MS) continue;
      while (this.lanes.length < AT_ONCE && this.missing.length > 0) {
        this.lanes.push(this.fetch_next());
      }
    }
  }

  private async fetched(piece: Piece): Promise<Blob> {
    const came = (share: number) => {
      this.come_bytes.set(piece, share * piece.sent_bytes);
      this.tell();
    };
    try {
      const address = this.pack.folder + piece.name;
      return await fetch_piece(address, piece, came, this.damaged.has(piece));
    } catch (why) {
      this.broken_off = true;
      throw why;
    }
  }

  private have(piece: Piece, content: Blob): void {
    this.there.set(piece, content);
    this.come_bytes.set(piece, piece.sent_bytes);
    this.tell();
  }

  private tell(): void {
    const bytes = [...this.come_bytes.values()].reduce((sum, each) => sum + each, 0);
    this.say({
      bytes: Math.floor(bytes),
      fetches: this.lanes.length > 0,
      damaged: this.damaged.size > 0,
    });
  }
}

/** Deletes every pack but this one. */
export async function drop_other_packs({ folder }: Pack): Promise<void> {
  for (const name of (await globalThis.caches?.keys()) ?? []) {
    if (name.startsWith(PREFIX) && name !== PREFIX + folder) await caches.delete(name);
  }
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
