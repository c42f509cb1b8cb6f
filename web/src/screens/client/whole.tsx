// Beside a client, on a wide screen: everything about them, in the order it happened.

import { date_words } from "../../device/when";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import { one } from "../../records/read";
import { type Befell, whole_history } from "../../salon/client_history";
import { who_words } from "../../salon/who";
import "./style.css";

/** Returns the table, the newest first. */
export function WholeHistory({ id }: { id: string }) {
  if (!one("client", id).value) return null;
  const befell = whole_history(id);
  return (
    <section class="stack client" aria-labelledby="whole-heading">
      <h2 id="whole-heading">Everything, newest first</h2>
      {befell.length === 0 && <p class="quiet">Nothing yet. Services and notes show here.</p>}
      <table class="whole" hidden={befell.length === 0}>
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">What</th>
            <th scope="col">In words</th>
            <th scope="col">Who</th>
          </tr>
        </thead>
        <tbody>
          {befell.map((row) => (
            <Row key={row.id} row={row} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Row({ row: { id, at, what, words, by, place } }: { row: Befell }) {
  return (
    <tr>
      <td>
        {date_words(at)}, {time_of_day(Date.parse(at))}
      </td>
      <td>{place ? <a href={address_of(place, id)}>{what}</a> : what}</td>
      <td>{words}</td>
      <td>{name_words(by)}</td>
    </tr>
  );
}

/** A reaction or a decision names its witness by the typed name. */
function name_words(by: string): string {
  return /^[0-9a-f-]{36}$/.test(by) ? who_words(by) : by;
}
