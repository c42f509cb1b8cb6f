// Hands out the engine's list only while it is whole: each piece is trusted by the hash in it.
import { getCacheKeyForURL, matchPrecache } from "workbox-precaching";
import { sha256_hex } from "../outbox/sha256";
import { OTHER_VERSION } from "./other_version";

const LIST = "/engine.json";

/**
 * Returns the list that this version of the page was built with.
 *
 * `sha256` is the list's own, from the build. A damaged copy is fetched past every cache and kept
 * in its place. Throws where there is no network for that.
 */
export async function whole_list(sha256: string): Promise<Response> {
  const kept = await matchPrecache(LIST);
  if (kept && (await hash_of(kept.clone())) === sha256) return kept;
  const fetched = await fetch(LIST, { cache: "reload" });
  if (!fetched.ok) return fetched;
  if ((await hash_of(fetched.clone())) !== sha256) {
    return new Response(null, { status: OTHER_VERSION });
  }
  const key = getCacheKeyForURL(LIST);
  for (const name of key ? await caches.keys() : []) {
    const cache = await caches.open(name);
    if (key && (await cache.match(key))) await cache.put(key, fetched.clone());
  }
  return fetched;
}

async function hash_of(response: Response): Promise<string> {
  const content = await response.arrayBuffer().catch(() => new ArrayBuffer(0));
  return await sha256_hex(content);
}
