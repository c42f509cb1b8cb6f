// The phone's store: one handle, opened when first needed and again after it was lost.
import { signal } from "@preact/signals";
import {
  type DBSchema,
  type IDBPDatabase,
  type IDBPObjectStore,
  type IDBPTransaction,
  openDB,
  type StoreNames,
  unwrap,
} from "idb";
import type { Operation } from "./operation";
import type { InTray } from "./position";
import type { SentRow } from "./sent";
import { named_here } from "./world";

export interface Stores extends DBSchema {
  /** This phone: its identity, its numbers, its clock, and the person who writes on it. */
  meta: { key: string; value: unknown };
  /** Records as the salon's server last gave them, by entity. */
  base: { key: string; value: unknown };
  /** Operations that wait to be sent, by their number. */
  outbox: { key: number; value: Operation };
  /** Operations that were sent and may not have come back yet, by the last number of a row. */
  sent: { key: number; value: SentRow };
  /** Operations that were refused and need a look, by their id. */
  tray: { key: string; value: InTray };
  /** Photos by their SHA-256. */
  blobs: { key: string; value: { bytes: ArrayBuffer; type: string } };
  /** Text typed and not yet written, by its place. */
  drafts: { key: string; value: string };
}

export type Database = IDBPDatabase<Stores>;

/** The store of this window's records: the demo day has one of its own. */
export const DATABASE = named_here("basinside");
const VERSION = 1;
const STORES = ["meta", "base", "outbox", "sent", "tray", "blobs", "drafts"] as const;

/** True while another window holds an older version open and this one must wait for it. */
export const waits_for_another_window = signal(false);

let handle: Promise<Database> | undefined;

/** Returns the open store; a refusal is not remembered, so the next call tries again. */
export function database(): Promise<Database> {
  handle ??= open().catch((why: unknown) => {
    handle = undefined;
    throw why;
  });
  return handle;
}

async function open(): Promise<Database> {
  let mine: Database | undefined;
  const drop = () => {
    mine?.close();
    handle = undefined;
  };
  try {
    mine = await openDB<Stores>(DATABASE, VERSION, {
      upgrade(opened) {
        for (const store of STORES) {
          if (!opened.objectStoreNames.contains(store)) opened.createObjectStore(store);
        }
      },
      blocked() {
        waits_for_another_window.value = true;
      },
      // A newer version wants in: an old open handle would block it for ever.
      blocking: drop,
      terminated: drop,
    });
    return mine;
  } finally {
    waits_for_another_window.value = false;
  }
}

/** Closes the handle; the next use opens another. */
export async function close_database(): Promise<void> {
  const closing = handle;
  handle = undefined;
  await closing?.then((opened) => opened.close()).catch(() => undefined);
}

/**
 * Returns the result of `work` on the open store. A lost handle never heals, so it is dropped and
 * the work done again on a new one; `work` must allow being done twice. A full store is not a lost
 * one.
 */
export async function with_database<Made>(
  work: (opened: Database) => Promise<Made>,
): Promise<Made> {
  try {
    return await work(await database());
  } catch (why) {
    if (!is_lost(why)) throw why;
    await close_database();
    return work(await database());
  }
}

/** Returns whether the store refused for lack of room. */
export function is_full(why: unknown): boolean {
  return why instanceof DOMException && why.name === "QuotaExceededError";
}

function is_lost(why: unknown): boolean {
  return why instanceof DOMException && !is_full(why);
}

/** One transaction over these stores. */
export type Transaction<
  Names extends StoreNames<Stores>,
  Mode extends IDBTransactionMode,
> = IDBPTransaction<Stores, Names[], Mode>;

/** One transaction that writes to these stores. */
export type Writing<Names extends StoreNames<Stores>> = Transaction<Names, "readwrite">;

/**
 * Puts many rows without waiting for each: the transaction reports a failure at its end. Uses the
 * browser's own store: a promise for each would take as long as the writing.
 */
export function put_all<Names extends StoreNames<Stores>, Name extends Names>(
  store: IDBPObjectStore<Stores, Names[], Name, "readwrite">,
  rows: Iterable<readonly [value: Stores[Name]["value"], key: Stores[Name]["key"]]>,
): void {
  const plain = unwrap(store);
  for (const [value, key] of rows) plain.put(value, key);
}

/**
 * Returns the result of `work` in one strict transaction, once the store has said `complete`; all
 * of it is kept or none. `work` must wait for nothing but the transaction, which would close under
 * it. It must allow being done twice.
 */
export async function write_at_once<Names extends StoreNames<Stores>, Made>(
  stores: readonly Names[],
  work: (writing: Writing<Names>) => Promise<Made>,
): Promise<Made> {
  return with_database(async (opened) => {
    const writing = opened.transaction([...stores], "readwrite", { durability: "strict" });
    // `done` reports an abort; a single request only repeats it.
    const { done } = writing;
    done.catch(() => undefined);
    try {
      const made = await work(writing);
      await done;
      return made;
    } catch (why) {
      try {
        writing.abort();
      } catch {
        // It has ended already.
      }
      // The transaction knows why it failed: a request only says that it was aborted.
      throw writing.error ?? why;
    }
  });
}
