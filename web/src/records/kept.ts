// What was entered is on this phone before anything else is done with it, and there again after
// a reload. A value written by another version of the page, or spoilt, gives way to the default.
import { effect, type Signal, signal } from "@preact/signals";

const PREFIX = "basinside.1.";

/** Returns a signal that starts as it was last left, and is kept whenever it changes. */
export function kept<Value>(name: string, initial: Value): Signal<Value> {
  const value = signal(recall(name, initial));
  let first = true;
  effect(() => {
    const now = value.value;
    if (!first) keep(name, now);
    first = false;
  });
  return value;
}

/** Keeps a value under a name; a full or forbidden store loses only the keeping. */
export function keep(name: string, value: unknown): void {
  try {
    localStorage.setItem(PREFIX + name, JSON.stringify(value));
  } catch {
    storage_works.value = false;
  }
}

/** False once the browser has refused to keep something. */
export const storage_works = signal(true);

/** Returns what was kept under a name, or `initial` where that is missing or of another shape. */
export function recall<Value>(name: string, initial: Value): Value {
  try {
    const text = localStorage.getItem(PREFIX + name);
    return text === null ? initial : fitted(JSON.parse(text), initial);
  } catch {
    return initial;
  }
}

/** Returns `found` where it has the shape of `initial`, field by field, and `initial` elsewhere. */
export function fitted<Value>(found: unknown, initial: Value): Value {
  if (initial === null || initial === undefined) return (found as Value) ?? initial;
  if (Array.isArray(initial)) return Array.isArray(found) ? (found as Value) : initial;
  if (typeof initial !== "object")
    return typeof found === typeof initial ? (found as Value) : initial;
  if (typeof found !== "object" || found === null || Array.isArray(found)) return initial;
  const fields = found as Record<string, unknown>;
  return Object.fromEntries(
    Object.entries(initial).map(([key, value]) => [key, fitted(fields[key], value)]),
  ) as Value;
}
