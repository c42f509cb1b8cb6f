// Whether the engine's files are on this device, where the service worker hands them out from.
interface Pack {
  folder: string;
  files: { name: string }[];
}

/** Returns whether every file of the engine that belongs to this page is kept here. */
export async function pack_is_kept(): Promise<boolean> {
  try {
    const response = await fetch("/engine.json");
    const { folder, files }: Pack = await response.json();
    const found = await Promise.all(files.map(({ name }) => caches.match(folder + name)));
    return found.every((file) => file !== undefined);
  } catch {
    return false;
  }
}
