// What two wrote at once, and what the desk did not take: each side with who and when, and one tap
// that decides.
import { tray } from "../../courier/tray";
import { everything_to_look_at } from "../../records/read";
import { BothSides } from "./both";
import { NotTaken } from "./not_taken";
import "./style.css";

/** Returns everything that waits for a person's word. */
export function NeedsALook() {
  const records = everything_to_look_at.value;
  const refused = tray.value;
  return (
    <section class="stack place" aria-labelledby="look-heading">
      <h2 id="look-heading">Needs a look</h2>
      {records.length + refused.length === 0 && (
        <p>
          Nothing now. What two people write at the same time, and what the desk cannot take, stands
          here.
        </p>
      )}
      {records.map((record) => (
        <BothSides key={record.id} record={record} />
      ))}
      {refused.map((row) => (
        <NotTaken key={row.id} row={row} />
      ))}
    </section>
  );
}
