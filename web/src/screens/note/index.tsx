// A note: large text, own phrases, a photo. It says "kept" only once it is.

import { useState } from "preact/hooks";
import { photo_of } from "../../courier/photo";
import { useTyped } from "../../device/typed";
import { at_now, date_words } from "../../device/when";
import { Photo } from "../../parts/photo";
import { TakePhoto } from "../../parts/photo/take";
import { time_of_day } from "../../parts/words";
import { create } from "../../records/write";
import type { Note } from "../../salon/clients";
import { keep_photo } from "../../salon/photos";
import { author_first } from "../../salon/who";
import { Phrases } from "./phrases";
import "./style.css";

interface NotesProps {
  about: { service: string } | { client: string };
  notes: readonly Note[];
}

/** Returns the notes so far and the field for another. */
export function Notes({ about, notes }: NotesProps) {
  const key = "service" in about ? about.service : about.client;
  const [text, put_text] = useTyped("note", key, "");
  const [photo, put_photo] = useTyped("note_photo", key, "");
  const [said, say] = useState("");
  const put = (typed: string) => {
    put_text(typed);
    say("");
  };
  const keep = async () => {
    try {
      await author_first();
      await create("note", { ...about, text: text.trim(), ...(photo && { photo }), at: at_now() });
      put("");
      put_photo("");
      say("Kept on this phone.");
    } catch (why) {
      say(why instanceof Error ? why.message : String(why));
    }
  };
  return (
    <div class="notes stack">
      <label class="note-field">
        <span>Note</span>
        <textarea
          rows={3}
          // An erasure cannot reach what a browser remembers of a form by itself.
          autocomplete="off"
          value={text}
          onInput={(event) => put(event.currentTarget.value)}
        />
      </label>
      <Phrases onPhrase={(phrase) => put(text ? `${text.trimEnd()} ${phrase}` : phrase)} />
      <div class="note-steps">
        <TakePhoto
          words={photo ? "Another photo" : "Photo"}
          onPhoto={async (taken) => {
            try {
              put_photo(await keep_photo(taken));
            } catch (why) {
              say(why instanceof Error ? why.message : String(why));
            }
          }}
        />
        <button type="button" disabled={!text.trim() && !photo} onClick={() => void keep()}>
          Keep the note
        </button>
      </div>
      {photo && <Photo sha256={photo} words="the photo of this note" blob_of={photo_of} />}
      <p role="status">{said}</p>
      <ul class="note-list">
        {[...notes].reverse().map((note) => (
          <li key={note.id}>
            <p class="quiet">
              {date_words(note.at ?? note.created_at)},{" "}
              {time_of_day(Date.parse(note.at ?? note.created_at))}
            </p>
            <p class="note-text">{note.text}</p>
            {note.photo && <Photo sha256={note.photo} words="photo" blob_of={photo_of} />}
          </li>
        ))}
      </ul>
    </div>
  );
}
