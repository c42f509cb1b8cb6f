// The newest notes, and the search over everything: on this phone and on the salon's server.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { type FoundAtServer, found_at_the_server } from "../../courier/search";
import { date_words } from "../../device/when";
import { TextField } from "../../parts/text";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import { all, one } from "../../records/read";
import { found_everywhere, type Hit } from "../../salon/search";
import { who_words } from "../../salon/who";
import "./style.css";

const MOST_NOTES = 40;
const MOST_FOUND = 60;

const SEARCH_AFTER_MS = 150;

const typed = signal("");
const from_server = signal<FoundAtServer[]>([]);

/** Returns the newest notes, and the search over everything. */
export function Beside() {
  useEffect(() => {
    from_server.value = [];
    let late = false;
    const asking = setTimeout(async () => {
      const found = await found_at_the_server(typed.value, MOST_FOUND);
      if (!late) from_server.value = found;
    }, SEARCH_AFTER_MS);
    return () => {
      late = true;
      clearTimeout(asking);
    };
  }, [typed.value]);
  const here = found_everywhere(typed.value, MOST_FOUND);
  const ids = new Set(here.map(({ id }) => id));
  const found: Listed[] = [
    ...here,
    ...from_server.value.filter(({ id }) => !ids.has(id)).map(hit_of),
  ];
  return (
    <section class="stack desk" aria-label="Notes, and the search">
      <div class="desk-search">
        <TextField
          label="Find a client, a note, a formula, a shade"
          value={typed.value}
          onType={(text) => {
            typed.value = text;
          }}
          note="Press / to search."
        />
      </div>
      {typed.value.trim() ? (
        <>
          <p class="quiet" role="status">
            {found.length === 0 ? "Nothing found." : `${found.length} found`}
          </p>
          <ul class="rows">
            {found.map(({ id, what, words, whose, place, of }) => (
              <li key={id}>
                <a class="row" href={address_of(place, of)}>
                  <strong>{words}</strong>
                  <span class="quiet">{[what, whose].filter(Boolean).join(", ")}</span>
                </a>
              </li>
            ))}
          </ul>
        </>
      ) : (
        <LatestNotes />
      )}
    </section>
  );
}

type Listed = Omit<Hit, "what"> & { what: string };

/** A match that only the server holds, as it is listed. */
function hit_of({ id, kind, words, client, client_name, service }: FoundAtServer): Listed {
  const whose = kind === "client" ? "" : client_name;
  if (kind === "formula") return { id, what: "formula", words, whose, place: "formula", of: id };
  if (service) return { id, what: "note", words, whose, place: "service", of: service };
  const what = kind === "history_entry" ? "history" : kind;
  return { id, what, words, whose, place: "client", of: client ?? id };
}

function LatestNotes() {
  const notes = all("note").value.slice(-MOST_NOTES).reverse();
  return (
    <>
      <h2>Notes</h2>
      {notes.length === 0 && <p class="quiet">Notes from every phone show here.</p>}
      <ul class="rows" aria-live="polite">
        {notes.map(({ id, text, by, at, created_at, service = "", client = "" }) => {
          const whose = client || (one("service", service).value?.client ?? "");
          const time = at ?? created_at;
          return (
            <li key={id}>
              <a
                class="row"
                href={service ? address_of("service", service) : address_of("client", whose)}
              >
                <strong>{text || "a photo"}</strong>
                <span class="quiet">
                  {one("client", whose).value?.name ?? "no client"} · {who_words(by)} ·{" "}
                  {date_words(time)}, {time_of_day(Date.parse(time))}
                </span>
              </a>
            </li>
          );
        })}
      </ul>
    </>
  );
}
