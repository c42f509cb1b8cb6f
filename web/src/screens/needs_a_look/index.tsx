// Lists what needs a look: records two people wrote apart, entries the desk refused, and matters
// only the desk sees. Each has who and when, and what ends it.
import { useEffect, useState } from "preact/hooks";
import { follow_matters, is_of_record, matters_at_the_server } from "../../courier/matters";
import { tray } from "../../courier/tray";
import { set_aside } from "../../device/set_aside";
import { ShowMore } from "../../parts/rows";
import { address_of, type PlaceName } from "../../place";
import { everything_to_look_at, state_of } from "../../records/read";
import { show as shown_as } from "../../records/show";
import { record_words } from "../../salon/record_words";
import { BothSides } from "./both";
import { NotTaken } from "./not_taken";
import { ToClose } from "./to_close";
import "./style.css";

const SHOWN_AT_ONCE = 20;

/** Returns everything that waits for a person's word. */
export function NeedsALook() {
  const records = everything_to_look_at.value;
  const refused = tray.value;
  const closable = matters_at_the_server.value.filter((matter) => !is_of_record(matter));
  const [shown, show] = useState(SHOWN_AT_ONCE);
  useEffect(follow_matters, []);
  return (
    <section class="stack place" aria-labelledby="look-heading">
      <h2 id="look-heading">Needs a look</h2>
      {records.length + refused.length + closable.length + set_aside.value.length === 0 && (
        <p>
          Nothing now. Here you settle entries that two people wrote apart, or that the desk
          refused.
        </p>
      )}
      {closable.slice(0, shown).map((matter) => (
        <ToClose key={matter.id} matter={matter} />
      ))}
      <ShowMore count={closable.length} shown={shown} onMore={() => show(shown + SHOWN_AT_ONCE)} />
      {records.map((record) => (
        <BothSides key={record.id} record={record} />
      ))}
      {refused.map((row) => (
        <NotTaken key={row.id} row={row} />
      ))}
      {set_aside.value.map(({ name, id }) => (
        <a key={`${name}/${id}`} class="button" href={address_of(name as PlaceName, id)}>
          Set aside on this phone: {aside_words(id)}
        </a>
      ))}
    </section>
  );
}

function aside_words(id: string): string {
  const state = state_of(id);
  return state ? record_words(shown_as(state).entity) : "an entry";
}
