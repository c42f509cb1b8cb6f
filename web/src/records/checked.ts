// The check of fields against their types. Its table is large, so it comes once the page is open,
// and before anything is taken in. A phone that found a wrong field waits for it as it opens.
import { named_here } from "../outbox/world";
import type { State } from "./fold";

type Check = Pick<typeof import("./typed"), "is_known" | "misfit">;

const FOUND = named_here("basinside.records.unread");
let check: Check | undefined;

/** Resolves once fields are checked. Throws where the code for it cannot be loaded. */
export async function bring_check(): Promise<void> {
  check ??= await import("./typed");
}

/** Returns whether this app knows a field; before the check has come, it takes any for known. */
export function is_known(kind: string, field: string): boolean {
  return check?.is_known(kind, field) ?? true;
}

/** Returns the place that is not of the field's type, as `typed` does; null before that has come. */
export function misfit(kind: string, field: string, v: unknown): string | null {
  return check?.misfit(kind, field, v) ?? null;
}

/** Returns whether every field of a record is known and of its type. */
export function is_sound({ kind, fields }: State): boolean {
  return Object.entries(fields).every(
    ([field, { heads }]) =>
      field === "gone" ||
      (is_known(kind, field) && heads.every(({ v }) => misfit(kind, field, v) === null)),
  );
}

/** Whether this phone found a record at its last look that is not sound. */
export function was_any_unsound(): boolean {
  try {
    return localStorage.getItem(FOUND) !== null;
  } catch {
    return false;
  }
}

/** Notes for the next opening whether a record is not sound. */
export function note_unsound(any: boolean): void {
  try {
    if (any) localStorage.setItem(FOUND, "yes");
    else localStorage.removeItem(FOUND);
  } catch {
    // The next opening then shows such a field until the check has come.
  }
}
