// *Needs a look*, at the desk: fields that two people wrote apart, and matters only the server
// sees.
import { useEffect } from "preact/hooks";
import {
  follow_matters,
  is_of_record,
  type Matter,
  matters_at_the_server,
} from "../../courier/matters";
import { sending } from "../../courier/state";
import { tray } from "../../courier/tray";
import { address_of } from "../../place";
import { kind_words } from "../../records/fold";
import { everything_to_look_at } from "../../records/read";
import { asks_words, record_words } from "../../salon/record_words";

const SHOWN_MOST = 8;

/** Returns the list, the longest waiting first, each leading to its decision. */
export function ToLookAt() {
  const here = everything_to_look_at.value;
  useEffect(follow_matters, [here, sending.value.trouble]);
  const known = new Set(here.map(({ id }) => id));
  const rows = [
    ...matters_at_the_server.value.filter((matter) => !is_of_record(matter)).map(row_of_matter),
    ...here.map((record) => ({
      id: record.id,
      what: record_words(record),
      words: asks_words(record),
      href: address_of("look"),
    })),
    // Records that this phone does not have yet.
    ...matters_at_the_server.value
      .filter((matter) => is_of_record(matter) && sending.value.to_come > 0)
      .filter(({ entity_id }) => !known.has(entity_id))
      .map(row_of_matter),
  ];
  const count = rows.length + tray.value.length;
  if (count === 0) return null;
  return (
    <section class="stack" aria-labelledby="to-look-at">
      <h2 id="to-look-at">Needs a look, {count}</h2>
      <ul class="rows">
        {rows.slice(0, SHOWN_MOST).map(({ id, what, words, href }) => (
          <li key={id}>
            <a class="row" href={href}>
              <strong>{what}</strong>
              <span class="quiet">{words}</span>
            </a>
          </li>
        ))}
      </ul>
      {(rows.length > SHOWN_MOST || tray.value.length > 0) && (
        <a class="button" href={address_of("look")}>
          See all
        </a>
      )}
    </section>
  );
}

function row_of_matter(matter: Matter) {
  const { id, kind, client_name, words } = matter;
  const what = [kind && kind_words(kind), client_name].filter(Boolean).join(": ");
  return { id, what: what || "A record", words, href: address_of("look") };
}
