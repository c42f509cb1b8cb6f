// What the app was opened with while it may have been open already: a file of a kind that it reads,
// or a shortcut. The window that is open takes it, so a running clock and its page stay.
import { ANYBODY, put_typed } from "../device/typed";
import { SHARED } from "../offline/from_worker";
import { packed, shared_form } from "../offline/shared_in";
import { go } from "../place";

/** As "Web App Launch Handler API" (WICG) and the "File Handling" part of the manifest have it. */
interface Launch {
  targetURL?: string;
  files?: readonly { getFile(): Promise<File> }[];
}

interface LaunchQueue {
  setConsumer(take: (launch: Launch) => void): void;
}

/** Takes what the app is opened with from now on, and what it was opened with before. */
export function take_launches(): void {
  const { launchQueue } = globalThis as { launchQueue?: LaunchQueue };
  launchQueue?.setConsumer((launch) => void take(launch));
}

async function take({ targetURL, files = [] }: Launch): Promise<void> {
  if (files.length > 0) return take_files(files);
  const { hash } = new URL(targetURL ?? "/", location.href);
  // Without one it only comes to the front, where it was left.
  if (hash.startsWith("#/")) location.hash = hash;
}

async function take_files(files: NonNullable<Launch["files"]>): Promise<void> {
  const now_ms = Date.now();
  try {
    for (const [at, handle] of files.entries()) {
      const file = await packed(await handle.getFile());
      put_typed(shared_form(now_ms, at), ANYBODY, file, null);
    }
    go(SHARED);
  } catch {
    go(SHARED, "not-kept");
  }
}
