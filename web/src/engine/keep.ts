// The engine's files on this device: each is kept as soon as it is here in full, so that a
// download that was broken off goes on where it stopped. The service worker hands them out when
// the runtime asks for them by their address.
const PREFIX = "engine ";

/** Returns a file of the pack, from this device where it is kept here, or throws in words. */
export async function pack_file(folder: string, name: string, bytes: number): Promise<ArrayBuffer> {
  const kept = await globalThis.caches?.open(PREFIX + folder).catch(() => undefined);
  const there = await kept?.match(folder + name);
  if (there) return there.arrayBuffer();
  const { content, media_type } = await fetched(folder + name);
  if (content.byteLength !== bytes) throw new Error(CUT_SHORT);
  const response = new Response(content, { headers: { "content-type": media_type } });
  // With no room to keep it, it still serves now.
  await kept?.put(folder + name, response).catch(() => {});
  return content;
}

/** Drops every pack but the one in `folder`. */
export async function drop_other_packs(folder: string): Promise<void> {
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX) && name !== PREFIX + folder) await caches.delete(name);
  }
}

const CUT_SHORT = "The download of the engine was cut short. It is taken up at the next try.";

async function fetched(address: string): Promise<{ content: ArrayBuffer; media_type: string }> {
  let response: Response;
  try {
    response = await fetch(address);
    if (response.ok) {
      const media_type = response.headers.get("content-type") ?? "";
      return { content: await response.arrayBuffer(), media_type };
    }
  } catch (cause) {
    throw new Error(CUT_SHORT, { cause });
  }
  throw new Error("A file of the engine is missing on the server. Ask whoever runs it to look.");
}
