// Keeps each entry on this phone before anything else happens, so that it is there after a reload.
// A value of another version of the page, or a broken one, gives way to the default.
import { effect, type Signal, signal } from "@preact/signals";
import { put_draft } from "../outbox/drafts";
import { in_demo, PREFIXES } from "../outbox/world";

const PREFIX = in_demo ? PREFIXES.demo : PREFIXES.own;
/** What the keys of kept values begin with in the strict store. */
export const KEPT = "kept/";

/** How each kept value takes over what the strict store held. */
const taking = new Map<string, (stored: unknown) => void>();

/** Returns a signal that starts with its last value, and is kept whenever it changes. */
export function kept<Value>(name: string, initial: Value): Signal<Value> {
  const value = watched(recall(name, initial), (now) => keep_strictly(name, now));
  taking.set(name, (stored) => {
    value.value = fitted(stored, initial);
  });
  return value;
}

/**
 * Returns a signal as `kept` does, for this window alone: two open windows do not take each other's
 * entries. A new window starts from the last value of any.
 */
export function kept_in_window<Value>(name: string, initial: Value): Signal<Value> {
  const here = read(() => sessionStorage, name);
  const start = here === undefined ? recall(name, initial) : fitted(here, initial);
  // From now on it is this window's, even if it never changes in it.
  write(() => sessionStorage, name, start);
  const value = watched(start, (now) => {
    write(() => sessionStorage, name, now);
    keep_strictly(name, now);
  });
  // A window that was only loaded again has its own value already.
  if (here === undefined) {
    taking.set(name, (stored) => {
      value.value = fitted(stored, initial);
    });
  }
  return value;
}

interface Stored {
  at_ms: number;
  value: unknown;
}

/** Takes over what the strict store held under a name, where it is newer than what is here. */
export function restore_kept(name: string, text: string): void {
  const stored = parsed(text) as Stored | undefined;
  const at_ms = read(() => localStorage, at_name(name));
  if (!stored || (typeof at_ms === "number" && at_ms >= stored.at_ms)) return;
  write(() => localStorage, name, stored.value);
  write(() => localStorage, at_name(name), stored.at_ms);
  taking.get(name)?.(stored.value);
}

/** Keeps a value under a name in the strict store too, so that a killed browser does not lose it. */
export function keep_strictly(name: string, value: unknown): void {
  const before = read(() => localStorage, at_name(name));
  // A clock that was set back must not make the newer value the older one.
  const at_ms = Math.max(Date.now(), typeof before === "number" ? before + 1 : 0);
  keep(name, value);
  write(() => localStorage, at_name(name), at_ms);
  put_draft(KEPT + name, JSON.stringify({ at_ms, value } satisfies Stored)).catch(() => {
    storage_works.value = false;
  });
}

function at_name(name: string): string {
  return `at.${name}`;
}

function watched<Value>(start: Value, on_change: (now: Value) => void): Signal<Value> {
  const value = signal(start);
  let first = true;
  effect(() => {
    const now = value.value;
    if (!first) on_change(now);
    first = false;
  });
  return value;
}

/** Keeps a value under a name; a full or forbidden store loses only the keeping. */
export function keep(name: string, value: unknown): void {
  write(() => localStorage, name, value);
}

// If storage is forbidden, even naming it throws.
function write(store: () => Storage, name: string, value: unknown): void {
  try {
    store().setItem(PREFIX + name, JSON.stringify(value));
  } catch {
    storage_works.value = false;
  }
}

function read(store: () => Storage, name: string): unknown {
  try {
    const text = store().getItem(PREFIX + name);
    return text === null ? undefined : parsed(text);
  } catch {
    return undefined;
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** False once the browser has refused to keep something. */
export const storage_works = signal(true);

/** Returns the value kept under a name, or `initial` if it is missing or has another shape. */
export function recall<Value>(name: string, initial: Value): Value {
  const found = read(() => localStorage, name);
  return found === undefined ? initial : fitted(found, initial);
}

/** Returns `found` if it has the shape of `initial`, field by field, else `initial`. */
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
