// Leaves a mark in two places, of which a browser may empty one without the other: beside the
// settings, and in the database with the records. One gone and the other there means that something
// was emptied. Both gone looks like a new phone.
const NAME = "basinside.1.kept_since";
const DATABASE = "basinside-mark";
const STORE = "mark";

/** What was found at the two places: since when each has kept, as ISO dates; undefined is empty. */
interface Marks {
  beside_settings: string | undefined;
  in_database: string | undefined;
}

/**
 * Returns which place was emptied and since when it had kept, or undefined if all is there or new.
 */
export function emptied(
  found: Marks,
): { what: "database" | "settings"; since: string } | undefined {
  const { beside_settings, in_database } = found;
  if (beside_settings && !in_database) return { what: "database", since: beside_settings };
  if (in_database && !beside_settings) return { what: "settings", since: in_database };
  return undefined;
}

/** Returns the marks. Throws if the browser does not let the page keep anything. */
export async function read_marks(): Promise<Marks> {
  const beside_settings = localStorage.getItem(NAME) ?? undefined;
  return { beside_settings, in_database: await in_store("readonly", (store) => store.get(NAME)) };
}

/** Leaves a mark at both places. Throws if the browser does not let the page keep anything. */
export async function leave_marks(since: string): Promise<void> {
  // In this order, so that a full disk leaves no mark that later accuses the database.
  await in_store("readwrite", (store) => store.put(since, NAME));
  localStorage.setItem(NAME, since);
}

function in_store<Found>(
  mode: IDBTransactionMode,
  work: (store: IDBObjectStore) => IDBRequest<Found>,
): Promise<Found> {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open(DATABASE, 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore(STORE);
    opening.onerror = () => reject(opening.error);
    opening.onsuccess = () => {
      const database = opening.result;
      const transaction = database.transaction(STORE, mode);
      const asked = work(transaction.objectStore(STORE));
      const ended = (settle: () => void) => () => {
        database.close();
        settle();
      };
      // A full disk ends in `abort`, and only `complete` means kept.
      transaction.oncomplete = ended(() => resolve(asked.result));
      transaction.onabort = ended(() => reject(transaction.error));
    };
  });
}
