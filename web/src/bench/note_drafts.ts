// Notes that were typed and not yet kept, by what they are about; there again after a reload.
import { kept } from "../device/kept";

const drafts = kept<{ about: string; text: string }[]>("note_drafts", []);

/** Returns what was typed about a record and not kept; empty for nothing. */
export function draft_of(about: string): string {
  return drafts.value.find((draft) => draft.about === about)?.text ?? "";
}

/** Keeps what is typed about a record; an empty text lets it go. */
export function put_draft(about: string, text: string): void {
  const others = drafts.value.filter((draft) => draft.about !== about);
  drafts.value = text ? [...others, { about, text }] : others;
}

/** Lets go of what was typed about any of these records. */
export function forget_drafts(about: ReadonlySet<string>): void {
  if (drafts.peek().some((draft) => about.has(draft.about))) {
    drafts.value = drafts.peek().filter((draft) => !about.has(draft.about));
  }
}
