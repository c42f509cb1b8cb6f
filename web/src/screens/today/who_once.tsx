// An unpaired phone asks once who works with it; nobody has to answer.
import { useTyped } from "../../device/typed";
import { Names } from "../../parts/names";
import { not_now, team, works, works_by_name } from "../../salon/who";
import "./who_once.css";

/** Returns the question beside the day. */
export function WhoOnce() {
  const [typed, type] = useTyped("my_name", "", "");
  return (
    <section class="stack who-once" aria-labelledby="who-once-heading">
      <h3 id="who-once-heading">Your name on the record?</h3>
      <p class="quiet">A printed record then says who worked. Settings can change it.</p>
      <Names
        members={team.value}
        chosen=""
        typed={typed}
        onType={type}
        onMember={works}
        onName={works_by_name}
      />
      <button type="button" onClick={not_now}>
        No name
      </button>
    </section>
  );
}
