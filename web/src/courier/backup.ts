// When the salon's server last backed itself up, by what it says of itself.
import type { Health } from "../api/shapes";
import { call } from "./call";

const OLD_MS = 3 * 86_400_000;

/** The last proven backup. */
export interface LastBackup {
  /** When it was made, ISO; null before the first. */
  at: string | null;
  /** Whether that was three days ago or more. */
  old: boolean;
  /** Why the last try failed; empty if it did not. */
  failed: string;
}

/** Returns what the server says; nothing of an older one, or while it is out of reach. */
export async function last_backup(now_ms: number): Promise<LastBackup | undefined> {
  const said = await call<Health>("/api/health").catch((): Partial<Health> => ({}));
  const { backup_proven_at: at, backup_failed: failed = "" } = said;
  if (at === undefined) return undefined;
  return { at, old: at !== null && now_ms - Date.parse(at) >= OLD_MS, failed };
}
