// What was typed and not yet written as a record, in the strict store: a killed browser loses none.
//
// A browser may write its simple storage (localStorage) several seconds late. A transaction here is
// complete before the next one begins, so a text is on the disk a moment after its last key.
import { with_database, write_at_once } from "./database";

const waiting = new Map<string, string | undefined>();
let writing: Promise<void> | undefined;

/** Puts a text under its key, or removes it; resolves once all that waits is in the store. */
export function put_draft(key: string, text: string | undefined): Promise<void> {
  waiting.set(key, text);
  writing ??= write_all().finally(() => {
    writing = undefined;
  });
  return writing;
}

/** Returns every text by its key. */
export async function all_drafts(): Promise<Map<string, string>> {
  return with_database(async (opened) => {
    const store = opened.transaction("drafts").objectStore("drafts");
    const [keys, texts] = await Promise.all([store.getAllKeys(), store.getAll()]);
    return new Map(keys.map((key, at) => [key, texts[at] ?? ""]));
  });
}

/** While one transaction writes, what is typed gathers and goes into the next. */
async function write_all(): Promise<void> {
  while (waiting.size > 0) {
    const batch = new Map(waiting);
    waiting.clear();
    await write_at_once(["drafts"], async (inside) => {
      const store = inside.objectStore("drafts");
      for (const [key, text] of batch) {
        if (text === undefined) await store.delete(key);
        else await store.put(text, key);
      }
    });
  }
}
