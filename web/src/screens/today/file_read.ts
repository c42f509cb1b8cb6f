// A day's file as it was read, with what somebody corrected of it: there after a reload, until it
// is taken or put away.
import { effect, signal } from "@preact/signals";
import { ANYBODY, forget_typed, is_typed, put_typed, typed_of } from "../../device/typed";
import type { LeftOut, ReadDays } from "../../salon/calendar/days";
import { called, type Proposed, proposed } from "../../salon/calendar/take";

const READ = "day_file";
const SAID = "day_file_said";

interface FileRead {
  /** Absent after a reload: a page may not open a file again by itself. */
  file?: File;
  rows: readonly Proposed[];
  left_out: readonly LeftOut[];
  outside: number;
}

/** What was said of the rows, by their keys. */
interface FileSaid {
  ticked: Record<string, boolean>;
  /** The client a row is for; empty for one who is in no record yet. */
  whose: Record<string, string>;
  corrected: Record<string, Pick<Proposed, "called" | "wish" | "rest">>;
}

const NOTHING: FileSaid = { ticked: {}, whose: {}, corrected: {} };

export const reading = signal<FileRead | null>(null);
export const said = signal<FileSaid>(NOTHING);
/** Whether an erasure took the file off the screen: it may name the person. */
export const erased = signal(false);

effect(() => {
  if (!reading.value || is_typed(READ, ANYBODY)) return;
  reading.value = null;
  said.value = NOTHING;
  erased.value = true;
});

/** Shows a file that was just read, with the rows that are ticked at first. */
export function show_file(file: File, days: ReadDays, at_first: (row: Proposed) => boolean): void {
  const { appointments, left_out, outside } = days;
  erased.value = false;
  const rows = proposed(appointments);
  put_typed<ReadDays | null>(READ, ANYBODY, days, null);
  say({
    ticked: Object.fromEntries(rows.map((row) => [row.key, at_first(row)])),
    whose: {},
    corrected: {},
  });
  reading.value = { file, rows, left_out, outside };
}

/** Shows what was read before the page was opened, as it was corrected. */
export function show_file_again(): void {
  const days = typed_of(READ, ANYBODY) as ReadDays | undefined;
  if (reading.peek() || !days) return;
  said.value = (typed_of(SAID, ANYBODY) as FileSaid | undefined) ?? said.peek();
  const { corrected } = said.peek();
  const rows = proposed(days.appointments).map((row) => {
    const as_corrected = corrected[row.key];
    if (!as_corrected) return row;
    const named = as_corrected.called === row.called ? row : called(row, as_corrected.called);
    return { ...named, ...as_corrected };
  });
  reading.value = { rows, left_out: days.left_out, outside: days.outside };
}

/** Keeps what was said of the rows. */
export function say(part: Partial<FileSaid>): void {
  said.value = { ...said.peek(), ...part };
  put_typed<FileSaid | null>(SAID, ANYBODY, said.peek(), null);
}

/** Puts a corrected row in its place. */
export function put_row(row: Proposed): void {
  const now = reading.peek();
  if (!now) return;
  reading.value = { ...now, rows: now.rows.map((one) => (one.key === row.key ? row : one)) };
  const { key, called: name, wish, rest } = row;
  say({ corrected: { ...said.peek().corrected, [key]: { called: name, wish, rest } } });
}

/** Puts the file away. */
export function forget_file(): void {
  erased.value = false;
  reading.value = null;
  forget_typed(READ, ANYBODY);
  forget_typed(SAID, ANYBODY);
}
