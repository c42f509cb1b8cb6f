// Half-filled forms: kept as they are typed, and there again after a reload or a killed browser.
import { batch, signal } from "@preact/signals";
import { useCallback, useRef } from "preact/hooks";
import { all_drafts, put_draft } from "../outbox/drafts";
import { named_here } from "../outbox/world";
import { fitted, KEPT, recall, restore_kept, storage_works } from "./kept";

const FORM = "form/";
/** What a form is about that may name anybody: erasing any person empties it. */
export const ANYBODY = "anybody";
/** Forms that may name anybody, and that versions before this one kept about nothing. */
const UNMARKED = ["day_file", "day_file_said"];
/** What is entered in every form, by "form/<its name>/<what it is about>". */
export const forms = signal<ReadonlyMap<string, unknown>>(new Map());

/**
 * Returns what was entered in a form, and the way to change it.
 *
 * `about` is the record that the form is about, so that erasing the record erases the form; or
 * `ANYBODY`. A value equal to `nothing` is not kept. Call the third to empty the form once a record
 * holds it.
 */
export function useTyped<Value>(
  form: string,
  about: string,
  nothing: Value,
): [Value, (value: Value) => void, () => void] {
  const key = key_of(form, about);
  const found = forms.value.get(key);
  const value = found === undefined ? nothing : fitted(found, nothing);
  const put = useCallback((now: Value) => put_typed(form, about, now, nothing), [key]);
  const forget = useCallback(() => forget_typed(form, about), [key]);
  return [value, put, forget];
}

/** What a field of text takes, so that its text is kept from its first key on. */
interface TypedField {
  value: string;
  onType: (text: string) => void;
  onDone: (text: string) => void;
  onLeave: (text: string) => void;
}

/**
 * Returns a field over a text on record, for what is written down only when typing is done.
 *
 * Until `done` has kept it, the text is there after a reload or a killed browser, and goes on
 * record when the field is left.
 */
export function useTypedOver(
  form: string,
  about: string,
  known: string,
  done: (text: string) => unknown,
): TypedField {
  const [typed, put, forget] = useTyped<string | null>(form, about, null);
  const being_kept = useRef<string | null>(null);
  const keep_it = async (text: string) => {
    if (being_kept.current === text) return;
    being_kept.current = text;
    if (text !== known) await done(text);
    being_kept.current = null;
    forget();
  };
  return {
    value: typed ?? known,
    onType: put,
    onDone: (text) => void keep_it(text),
    onLeave: (text) => {
      if (typed !== null) void keep_it(text);
    },
  };
}

/** Returns whether a form is half filled. */
export function is_typed(form: string, about: string): boolean {
  return forms.value.has(key_of(form, about));
}

/** Returns what is entered in a form; undefined for nothing. Its shape is not looked at. */
export function typed_of(form: string, about: string): unknown {
  return forms.peek().get(key_of(form, about));
}

/** Keeps what was entered in a form; the strict store has it a moment later. */
export function put_typed<Value>(form: string, about: string, value: Value, nothing: Value): void {
  const text = JSON.stringify(value);
  if (text === JSON.stringify(nothing)) {
    forget_typed(form, about);
    return;
  }
  const key = key_of(form, about);
  forms.value = new Map(forms.peek()).set(key, value);
  keep(key, text);
}

/** Empties a form. */
export function forget_typed(form: string, about: string): void {
  const key = key_of(form, about);
  const left = new Map(forms.peek());
  if (!left.delete(key)) return;
  forms.value = left;
  keep(key, undefined);
}

/** Empties every form about any of these records, or about anybody. */
export function forget_typed_about(ids: ReadonlySet<string>): void {
  for (const key of forms.peek().keys()) {
    const [, form = "", about = ""] = key.split("/");
    if (ids.has(about) || may_name_anybody(key)) forget_typed(form, about);
  }
}

/**
 * Empties them in this window and in every other one of this browser: a form that is half filled
 * there is in that window's memory, and its next key would keep it again.
 */
export function erase_typed_about(ids: ReadonlySet<string>): void {
  forget_typed_about(ids);
  windows?.postMessage([...ids]);
}

let windows: BroadcastChannel | undefined;

function listen(): void {
  if (windows || typeof BroadcastChannel === "undefined") return;
  windows = new BroadcastChannel(named_here("basinside.erased"));
  windows.onmessage = ({ data }: MessageEvent<string[]>) => forget_typed_about(new Set(data));
  (windows as { unref?: () => void }).unref?.();
}

/** Returns whether a form that is kept under `key` may name anybody. */
export function may_name_anybody(key: string): boolean {
  const [room, , about] = key.split("/");
  return `${room}/` === FORM && about === ANYBODY;
}

let opening: Promise<void> = Promise.resolve();

/**
 * Reads what was typed before this page was opened. What was typed since goes first.
 *
 * Call it once, when the page opens. Rejects with the store's own error where that does not open.
 */
export function open_typed(): Promise<void> {
  const read = read_typed();
  opening = read.catch(() => undefined);
  return read;
}

/** Resolves once what was typed before is here, or the store has failed. */
export function typed_is_open(): Promise<void> {
  return opening;
}

async function read_typed(): Promise<void> {
  listen();
  const stored = await all_drafts();
  const before = new Map<string, unknown>();
  // All at once: half of what was kept, beside the other half of an older day, must reach no store.
  batch(() => {
    for (const [key, text] of stored) {
      if (key.startsWith(KEPT)) restore_kept(key.slice(KEPT.length), text);
      else if (key.startsWith(FORM)) before.set(key, parsed(text));
    }
  });
  for (const form of UNMARKED) {
    const [old, marked] = [key_of(form, ""), key_of(form, ANYBODY)];
    if (!before.has(old)) continue;
    if (!before.has(marked)) before.set(marked, before.get(old));
    before.delete(old);
    keep(marked, JSON.stringify(before.get(marked)));
    keep(old, undefined);
  }
  // Versions before this one kept half-typed notes as one list.
  for (const { about, text } of recall<{ about: string; text: string }[]>("note_drafts", [])) {
    const key = key_of("note", about);
    if (!before.has(key)) before.set(key, text);
  }
  forms.value = new Map([...before, ...forms.peek()]);
}

function key_of(form: string, about: string): string {
  return `${FORM}${form}/${about}`;
}

function keep(key: string, text: string | undefined): void {
  put_draft(key, text).catch(() => {
    storage_works.value = false;
  });
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
