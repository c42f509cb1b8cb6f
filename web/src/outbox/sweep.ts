// Getting the browser to throw away for good what was deleted from the store.
//
// A browser's store is a log and sorted files: a row that is deleted, or written over, stays in them
// until they are tidied, which on a phone that writes little may be never. Chromium (LevelDB) tidies
// at once where a whole database is deleted, and only the files its keys lie in. Two of our own do it:
// deleting the second has all that is in the log written out as files; deleting the first, whose
// keys lie between ours and the second's, has those files merged, and what was deleted left out.
// Read off LevelDB's own LOG, and tested on a profile's bytes (tests/two_phones/test_erased.py).
import { deleteDB, openDB } from "idb";
import { write_copy_anew } from "./copy";
import { type Database, with_database, write_at_once } from "./database";

const SWEEPS = ["basinside sweep 1", "basinside sweep 2"] as const;
const DUE = "sweep_due";

/** Notes that a sweep is due, in the transaction that deletes: a page may be closed before it. */
export async function sweep_is_due(meta: { put(v: unknown, key: string): Promise<unknown> }) {
  await meta.put(true, DUE);
}

/**
 * Takes what was deleted out of the second copy and, where the browser does so, out of its files,
 * if that is due. What it cannot do now, or was kept from by the page being closed, is due at the
 * next start.
 */
export async function sweep_if_due(): Promise<void> {
  const is_due = (opened: Database) => opened.get("meta", DUE);
  if (!(await with_database(is_due))) return;
  // The second copy holds the same words.
  await write_copy_anew();
  await sweep();
  await write_at_once(["meta"], (writing) => writing.objectStore("meta").delete(DUE));
}

async function sweep(): Promise<void> {
  for (const name of SWEEPS) await put_a_row(name);
  for (const name of [...SWEEPS].reverse()) await deleteDB(name);
}

async function put_a_row(name: string): Promise<void> {
  const opened = await openDB(name, 1, {
    upgrade(made) {
      made.createObjectStore("rows");
    },
  });
  await opened.put("rows", 1, 1);
  opened.close();
}
