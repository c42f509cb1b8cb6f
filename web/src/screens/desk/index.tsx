// The desk: what runs on the floor, what is being noted, and everything that can be found. The
// same records as on any phone, more of them at once.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { type Found, found_at_the_server } from "../../courier/search";
import { ClockLine } from "../../parts/clock";
import { TextField } from "../../parts/text";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import { found_everywhere, type Hit } from "../../records/everywhere";
import { all, one } from "../../records/read";
import { now_ms, running } from "../../records/running";
import { client_name, zones_of } from "../../records/services";
import { day_words, rfc3339 } from "../../records/when";
import { who_words } from "../../records/who";
import "./style.css";

const MOST_NOTES = 40;
const MOST_FOUND = 60;

const SEARCH_AFTER_MS = 150;

const typed = signal("");
const from_server = signal<Found[]>([]);

/** Returns the floor: the clocks, what is due first on top, and the day's services. */
export function Floor() {
  useEffect(() => {
    const to_search = (event: KeyboardEvent) => {
      const typing = (event.target as HTMLElement).matches("input, textarea, select");
      if (event.key !== "/" || typing) return;
      event.preventDefault();
      document.querySelector<HTMLInputElement>(".desk-search input")?.focus();
    };
    addEventListener("keydown", to_search);
    return () => removeEventListener("keydown", to_search);
  }, []);
  const day = rfc3339(now_ms.value).slice(0, 10);
  const services = all("service")
    .value.filter(
      ({ planned_at, state }) =>
        state !== "cancelled" && planned_at && rfc3339(Date.parse(planned_at)).startsWith(day),
    )
    .sort((a, b) => Date.parse(a.planned_at ?? "") - Date.parse(b.planned_at ?? ""));
  return (
    <section class="stack desk" aria-labelledby="floor-heading">
      <h2 id="floor-heading">Floor</h2>
      {running.value.map(({ zone, service, client_name: name, zone_name, due }, at) => (
        <ClockLine
          key={zone}
          name={`${name}, ${zone_name}`}
          words={due.words}
          at_ms={due.at_ms}
          now_ms={now_ms.value}
          href={address_of("service", service)}
          first={at === 0}
        />
      ))}
      {running.value.length === 0 && <p class="quiet">No clock runs.</p>}
      {services.length === 0 && <p class="quiet">The day’s services stand here.</p>}
      <table class="desk-table" hidden={services.length === 0}>
        <thead>
          <tr>
            <th scope="col">Time</th>
            <th scope="col">Client</th>
            <th scope="col">Who</th>
            <th scope="col">Zones</th>
            <th scope="col">Now</th>
          </tr>
        </thead>
        <tbody>
          {services.map((service) => (
            <tr key={service.id}>
              <td>{time_of_day(Date.parse(service.planned_at ?? ""))}</td>
              <td>
                <a href={address_of("service", service.id)}>{client_name(service) || "no name"}</a>
              </td>
              <td>{who_words(service.person ?? service.by)}</td>
              <td>
                {zones_of(service.id)
                  .map(({ name }) => name)
                  .join(", ")}
              </td>
              <td>{service.state ?? "planned"}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** Returns what is being noted, the latest first, and the search over everything. */
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
          label="Find anything: a client, a note, a formula, a shade"
          value={typed.value}
          onType={(text) => {
            typed.value = text;
          }}
          note="The / key comes here."
        />
      </div>
      {typed.value.trim() ? (
        <>
          <p class="quiet" role="status">
            {found.length === 0 ? "Nothing here holds that." : `${found.length} found`}
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

/** Something that only the server holds, as it is listed. */
function hit_of({ id, kind, words, client, client_name, service }: Found): Listed {
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
      {notes.length === 0 && <p class="quiet">What is noted on any phone arrives here.</p>}
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
                  {day_words(time)}, {time_of_day(Date.parse(time))}
                </span>
              </a>
            </li>
          );
        })}
      </ul>
    </>
  );
}

/** Returns both where there is no room side by side. */
export function DeskNarrow() {
  return (
    <>
      <Floor />
      <Beside />
    </>
  );
}
