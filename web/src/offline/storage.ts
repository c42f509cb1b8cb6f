// What this device keeps for the page and for how long, as the browser says.
import { type ReadonlySignal, signal } from "@preact/signals";
import { installed } from "./install";
import { emptied, leave_marks, read_marks } from "./marker";

export interface Storage {
  /** The browser has promised not to clear this storage by itself. */
  persisted: boolean;
  used_bytes: number;
  quota_bytes: number;
}

const storage_now = signal<Storage | undefined>();
/** The browser's answer; undefined until it comes, and if it says nothing. */
export const storage: ReadonlySignal<Storage | undefined> = storage_now;

const forgets_now = signal(false);
/** True once the browser has refused to keep anything, as private windows do. */
export const window_forgets: ReadonlySignal<boolean> = forgets_now;

type Loss = { what: "database" | "settings"; since: string };
const loss_now = signal<Loss | undefined>();
/** What was emptied, until the person has read about it. */
export const loss: ReadonlySignal<Loss | undefined> = loss_now;

/** Looks at the storage, and at the marks of an emptied one. Call it when the page opens. */
export async function look_at_storage(): Promise<void> {
  await look_at_marks();
  await measure();
}

/** Asks the browser again how much is kept. */
export async function measure(): Promise<void> {
  if (!navigator.storage?.estimate) return;
  const { usage = 0, quota = 0 } = await navigator.storage.estimate();
  const persisted = (await navigator.storage.persisted?.()) ?? false;
  storage_now.value = { persisted, used_bytes: usage, quota_bytes: quota };
}

/** Asks the browser never to clear this storage by itself; the answer is in `storage`. */
export async function ask_to_persist(): Promise<void> {
  await navigator.storage?.persist?.();
  await measure();
}

/**
 * Asks without a tap, once there is something to lose.
 *
 * In a tab only the settings ask: some browsers ask the person at once, who may be at the basin.
 */
export async function something_to_lose(): Promise<void> {
  if (installed.peek() && storage.peek()?.persisted !== true) await ask_to_persist();
}

/** The person has read it; the marks start again from now. */
export async function take_note_of_loss(): Promise<void> {
  await leave_marks(new Date().toISOString());
  loss_now.value = undefined;
}

async function look_at_marks(): Promise<void> {
  try {
    const found = await read_marks();
    loss_now.value = emptied(found);
    if (!found.beside_settings && !found.in_database) await leave_marks(new Date().toISOString());
  } catch {
    forgets_now.value = true;
  }
}
