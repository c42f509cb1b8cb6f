// The record of a reaction: signs by taps, a photo, what was done, who was told, where to report.

import { useState } from "preact/hooks";
import { photo_of } from "../../courier/photo";
import { settings } from "../../device/settings";
import { useTyped } from "../../device/typed";
import { date_words } from "../../device/when";
import { Ticks } from "../../parts/choice/ticks";
import { Photo } from "../../parts/photo";
import { time_of_day } from "../../parts/words";
import { keep_photo } from "../../salon/photos";
import {
  call_first,
  DONE,
  type Reaction as KeptReaction,
  products_on,
  REPORTS,
  reactions_of,
  record_reaction,
  type Seen,
  SIGNS,
  seen_by,
  sign_words,
  TOLD,
} from "../../salon/reactions";
import "./style.css";

const NOTHING: Seen = { signs: [], done: [], told: [], text: "", photo: "", by: "" };

/** Returns the form and what was kept before; `about` is a service, or a client. */
export function Reaction({ about }: { about: string }) {
  const [seen, put, forget] = useTyped<Seen>("reaction", about, NOTHING);
  const [said, say] = useState("");
  const change = (part: Partial<Seen>) => {
    put({ ...seen, ...part });
    say("");
  };
  const keep = async () => {
    try {
      await record_reaction(about, seen);
      forget();
      say("Kept on this phone.");
    } catch (why) {
      say(why instanceof Error ? why.message : String(why));
    }
  };
  return (
    <div class="stack">
      <Ticks
        legend="What you see or feel"
        options={SIGNS}
        chosen={seen.signs}
        onChange={(signs) => change({ signs })}
      />
      {call_first(seen.signs) && (
        <p class="call-first" role="alert">
          <strong>Call for help first.</strong> The number is under Help. Somebody else rinses.
        </p>
      )}
      <On about={about} />
      <Ticks
        legend="What was done"
        options={DONE.map((word) => [word, word] as const)}
        chosen={seen.done}
        onChange={(done) => change({ done })}
      />
      <Ticks
        legend="Who was told"
        options={TOLD.map((word) => [word, word] as const)}
        chosen={seen.told}
        onChange={(told) => change({ told })}
      />
      <Picture photo={seen.photo} onPhoto={(photo) => change({ photo })} onFault={say} />
      <label class="reaction-text">
        <span>Where, how large, since when (optional)</span>
        <textarea
          rows={2}
          value={seen.text}
          onInput={({ currentTarget }) => change({ text: currentTarget.value })}
        />
      </label>
      <label class="reaction-text">
        <span>Your name</span>
        <input
          type="text"
          autocomplete="off"
          maxLength={60}
          value={seen.by}
          onInput={({ currentTarget }) => change({ by: currentTarget.value })}
        />
      </label>
      <button
        type="button"
        class="reaction-keep"
        disabled={seen.signs.length === 0}
        onClick={() => void keep()}
      >
        {seen.signs.length === 0 ? "Tap what you see or feel" : "Keep the record"}
      </button>
      <p role="status">{said}</p>
      <Report />
      <Kept about={about} />
    </div>
  );
}

function On({ about }: { about: string }) {
  const products = products_on(about);
  if (products.length === 0) return null;
  return (
    <div>
      <h3>What was on</h3>
      <ul>
        {products.map(({ product, line, batch }) => (
          <li key={product}>
            {line ? `${line}, ` : ""}
            {product}: {batch ? `batch ${batch}` : "batch unknown: read the tube"}
          </li>
        ))}
      </ul>
    </div>
  );
}

interface PictureProps {
  photo: string;
  onPhoto: (sha256: string) => void;
  onFault: (words: string) => void;
}

function Picture({ photo, onPhoto, onFault }: PictureProps) {
  const take = async (file: File | undefined) => {
    if (!file) return;
    try {
      onPhoto(await keep_photo(file));
    } catch (why) {
      onFault(why instanceof Error ? why.message : String(why));
    }
  };
  return (
    <div class="stack">
      <label class="button">
        {photo ? "Another photo" : "Photo, if the client agrees"}
        <input
          type="file"
          class="unseen"
          accept="image/*"
          capture="environment"
          onChange={({ currentTarget }) => void take(currentTarget.files?.[0])}
        />
      </label>
      {photo && <Photo sha256={photo} words="the photo of this reaction" blob_of={photo_of} />}
    </div>
  );
}

function Report() {
  const { words, source, checked } = REPORTS[settings.value.profile];
  return (
    <div>
      <h3>Where to report</h3>
      <p>{words} Keep the tubes and the label. Local rules come first.</p>
      <p class="quiet">
        Source: {source}
        {checked ? "." : "; not yet checked against the primary text."}
      </p>
    </div>
  );
}

function Kept({ about }: { about: string }) {
  const kept = reactions_of(about);
  if (kept.length === 0) return null;
  return (
    <div>
      <h3>Recorded</h3>
      <ul>
        {kept.map((reaction) => (
          <li key={reaction.id} class="reaction-kept">
            <strong>
              {date_words(reaction.at ?? reaction.created_at)},{" "}
              {time_of_day(Date.parse(reaction.at ?? reaction.created_at))}:{" "}
              {(reaction.signs ?? []).map(sign_words).join(", ")}
            </strong>
            <p>{kept_words(reaction)}</p>
            {reaction.photo && <Photo sha256={reaction.photo} words="photo" blob_of={photo_of} />}
          </li>
        ))}
      </ul>
    </div>
  );
}

function kept_words(reaction: KeptReaction): string {
  const { done, told, text } = reaction;
  return [done, told && `told: ${told}`, text, seen_by(reaction)].filter(Boolean).join(". ");
}
