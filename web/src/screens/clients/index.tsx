// Every client, found as you type.
import { signal } from "@preact/signals";
import { date_words } from "../../device/when";
import { ShowMore } from "../../parts/rows";
import { TextField } from "../../parts/text";
import { address_of } from "../../place";
import { all, records_ready } from "../../records/read";
import { type Client, clients_found, services_of } from "../../salon/clients";
import { zones_of } from "../../salon/service/services";
import { mix_words } from "../../shelf/shelf";
import "./style.css";

const typed = signal("");
const MORE = 40;
const shown_most = signal(MORE);

/** Returns the list with its search. */
export function Clients() {
  const found = clients_found(typed.value);
  const count = all("client").value.length;
  return (
    <section class="stack clients" aria-labelledby="clients-heading">
      <h2 id="clients-heading">Clients</h2>
      {count > 0 && (
        <TextField
          label="Find a name or a number"
          value={typed.value}
          onType={(text) => {
            typed.value = text;
            shown_most.value = MORE;
          }}
        />
      )}
      {!records_ready.value && <p class="quiet">Opening your records…</p>}
      {records_ready.value && count === 0 && (
        <p>
          No clients yet. The first comes with the first visit:{" "}
          <a href={address_of("today")}>plan a visit</a>.
        </p>
      )}
      {count > 0 && (
        <p class="quiet" role="status">
          {found.length === 0
            ? "No such client on this phone. A new phone knows only its own notes."
            : `${found.length} of ${count}`}
        </p>
      )}
      <ul class="rows">
        {found.slice(0, shown_most.value).map((client) => (
          <li key={client.id}>
            <a class="row" href={address_of("client", client.id)}>
              <strong>{client.name ?? "no name"}</strong>
              <span class="quiet">{last_words(client)}</span>
            </a>
          </li>
        ))}
      </ul>
      <ShowMore
        count={found.length}
        shown={shown_most.value}
        onMore={() => {
          shown_most.value += MORE;
        }}
      />
    </section>
  );
}

function last_words({ id }: Client): string {
  const last = services_of(id).find(({ state }) => state === "ended");
  if (!last) return "no service ended yet";
  const mix = zones_of(last.id).find((zone) => zone.mix)?.mix;
  return `${date_words(last.planned_at ?? last.created_at)}${mix ? `, ${mix_words(mix)}` : ""}`;
}
