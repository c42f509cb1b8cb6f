// Whether the engine is kept on this device, as the page asks before its loader is there.
import type { Pack } from "./pack";

/** What the name of a pack's cache begins with. */
export const PREFIX = "engine ";
/** What is kept beside a pack's pieces once it has passed its self-test here. */
export const TESTED = "tested";

/** Returns whether anything of an engine is kept on this device. */
export async function is_any_kept(): Promise<boolean> {
  const names = await globalThis.caches?.keys().catch(() => []);
  return names?.some((name) => name.startsWith(PREFIX)) ?? false;
}

/** Returns whether this pack was kept here whole and has passed its self-test. */
export async function is_tested_here({ folder }: Pack): Promise<boolean> {
  return (await globalThis.caches?.match(folder + TESTED).catch(() => undefined)) !== undefined;
}

/** Returns whether the pack that this page uses is kept here and has passed its self-test. */
export async function was_tested(): Promise<boolean> {
  try {
    const response = await fetch("/engine.json");
    return response.ok && (await is_tested_here(await response.json()));
  } catch {
    return false;
  }
}
