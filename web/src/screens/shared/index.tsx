// What another program shared: each file goes where it belongs, and waits here until then.
import { useEffect } from "preact/hooks";
import { put_away, type WaitingFile, waiting_files } from "../../device/shared";
import { in_demo } from "../../outbox/world";
import { address_of, go_instead } from "../../place";
import { records_ready } from "../../records/read";
import { SharedPhoto } from "./photo";
import "./style.css";

const NOT_KEPT =
  "This file was not kept: the phone is full, or the file is over 32 MB. Make room, then share it again.";

/** Returns the files that wait; one that has a place of its own opens it at once. */
export function Shared({ id }: { id: string }) {
  const files = waiting_files.value;
  const [only] = files;
  const elsewhere = files.length === 1 && only && !in_demo ? WAYS[only.kind] : undefined;
  useEffect(() => {
    if (elsewhere) go_instead(elsewhere.place);
  }, [elsewhere]);
  return (
    <section class="stack shared" aria-labelledby="shared-heading">
      <h2 id="shared-heading">Shared with Basinside</h2>
      {id === "not-kept" && <p role="alert">{NOT_KEPT}</p>}
      {in_demo && <p>This is the demo day. Remove it, and your shared files show here.</p>}
      {!in_demo && id !== "not-kept" && files.length === 0 && (
        <p>No file waits here. Share a photo, a calendar file (.ics) or a table (.csv).</p>
      )}
      {records_ready.value && files.map((file) => <Waiting key={file.form} file={file} />)}
      <a class="button" href={address_of("today")}>
        Go to today
      </a>
    </section>
  );
}

/** The places that take a kind of file, and the words of the way there. */
const WAYS: Partial<Record<WaitingFile["kind"], { place: "today" | "settings"; words: string }>> = {
  day: { place: "today", words: "Import this day" },
  records: { place: "settings", words: "Import these records" },
};

function Waiting({ file }: { file: WaitingFile }) {
  const way = WAYS[file.kind];
  return (
    <div class="stack shared-file">
      <h3>{file.name || "A file"}</h3>
      {file.kind === "photo" && <SharedPhoto file={file} />}
      {way && (
        <a class="button" href={address_of(way.place)}>
          {way.words}
        </a>
      )}
      {file.kind === "other" && (
        <p>Basinside cannot read this file. It takes photos, .ics, .csv and its own .records.</p>
      )}
      <button type="button" onClick={() => put_away(file)}>
        Put this file away
      </button>
    </div>
  );
}
