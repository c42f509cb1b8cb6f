// Getting the browser to throw away for good what was deleted from the store.
//
// A browser's store is a log and sorted files: a row that is deleted, or written over, stays in them
// until they are tidied, which on a phone that writes little may be never. Chromium (LevelDB) tidies
// at once where a whole database is deleted, and only the files its keys lie in. Two of our own do it:
// deleting the second has all that is in the log written out as files; deleting the first, whose
// keys lie between ours and the second's, has those files merged, and what was deleted left out.
// Read off LevelDB's own LOG, and tested on a profile's bytes (tests/two_phones/test_erased.py).
import { deleteDB, openDB } from "idb";

const SWEEPS = ["basinside sweep 1", "basinside sweep 2"] as const;

/** Tidies the browser's files, where it does so. What it cannot do now is left for the next time. */
export async function sweep(): Promise<void> {
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
