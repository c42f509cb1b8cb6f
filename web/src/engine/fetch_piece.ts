// Fetches one piece of the engine, counts its bytes as they come, and takes only what is whole.
import { sha256_hex } from "../outbox/sha256";
import type { Piece } from "./pack";

const CUT_SHORT = "The download of the engine was interrupted.";
const MISSING =
  "A file of the engine is missing. Update the page, or ask the person who runs the server.";
const SPOILT = "A part of the engine arrived damaged.";

/** The piece did not come; the next try may bring it. */
export class BrokenOff extends Error {}

/**
 * Returns the content of a piece from the network.
 *
 * `came` hears, from 0 to 1, which share of it has come. A piece that arrives damaged is fetched
 * once more, past every cache. Throws in words: `BrokenOff` where another try may do.
 */
export async function fetch_piece(
  address: string,
  piece: Piece,
  came: (share: number) => void,
  past_caches = false,
): Promise<Blob> {
  const content = await read(address, piece, came, past_caches);
  if (content.size < piece.bytes) throw new BrokenOff(CUT_SHORT);
  if (await is_whole(piece, content)) return content;
  came(0);
  if (!past_caches) return fetch_piece(address, piece, came, true);
  throw new BrokenOff(SPOILT);
}

/** Returns whether a content is the piece to the last bit; by its length where nothing can count. */
export async function is_whole(piece: Piece, content: Blob): Promise<boolean> {
  if (content.size !== piece.bytes) return false;
  // An address without TLS, which no browser lets keep anything either.
  if (!globalThis.crypto?.subtle) return true;
  return (await sha256_hex(await content.arrayBuffer())) === piece.sha256;
}

async function read(
  address: string,
  piece: Piece,
  came: (share: number) => void,
  past_caches: boolean,
): Promise<Blob> {
  let response: Response;
  try {
    response = await fetch(address, past_caches ? { cache: "reload" } : {});
  } catch (cause) {
    throw new BrokenOff(CUT_SHORT, { cause });
  }
  if (!response.ok) throw new Error(MISSING);
  try {
    const parts: BlobPart[] = [];
    let bytes = 0;
    const reader = response.body?.getReader();
    for (let part = await reader?.read(); part && !part.done; part = await reader?.read()) {
      parts.push(part.value);
      bytes += part.value.byteLength;
      came(Math.min(1, bytes / piece.bytes));
    }
    return new Blob(parts, { type: response.headers.get("content-type") ?? "" });
  } catch (cause) {
    throw new BrokenOff(CUT_SHORT, { cause });
  }
}
