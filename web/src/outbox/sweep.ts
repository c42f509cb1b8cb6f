// Makes the browser delete for good what was deleted from the store.
//
// A browser's store is a log and sorted files. A deleted or overwritten row stays in them until
// they are tidied, which may be never on a phone that writes little. Chromium (LevelDB) tidies at
// once when a whole database is deleted, but only the files its keys are in. Two databases of our
// own do it. Deleting the second writes everything in the log out as files. Deleting the first,
// whose keys are between ours and the second's, merges those files and leaves deleted rows out.
// Read from LevelDB's own LOG, and tested on a profile's bytes (tests/two_phones/test_erased.py).
import { deleteDB, openDB } from "idb";
import { write_copy_anew } from "./copy";
import { type Database, with_database, write_at_once } from "./database";

const SWEEPS = ["basinside sweep 1", "basinside sweep 2"] as const;
const DUE = "sweep_due";

/**
 * Notes that a sweep is due, in the transaction that deletes: the page may close before the sweep.
 */
export async function sweep_is_due(meta: { put(v: unknown, key: string): Promise<unknown> }) {
  await meta.put(true, DUE);
}

/**
 * Takes deleted rows out of the second copy and, if the browser can, out of its files, if that is
 * due. An interrupted sweep is due at the next start.
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
