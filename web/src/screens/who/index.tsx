// Who is working: one tap on a name of the team, or a new name that joins it.
import { useEffect, useRef } from "preact/hooks";
import { useTyped } from "../../device/typed";
import { Names } from "../../parts/names";
import { author_here } from "../../records/read";
import { not_now, team, works, works_by_name } from "../../salon/who";
import "./style.css";

/** Returns the question in place of the page; Help and the clocks stay under it. */
export function WhoIsWorking() {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const [typed, type] = useTyped("my_name", "", "");
  return (
    <section class="stack who" aria-labelledby="who-heading">
      <h2 ref={heading} id="who-heading" tabIndex={-1}>
        Who is working?
      </h2>
      <p class="quiet">Your entries on this phone carry your name.</p>
      <Names
        members={team.value}
        chosen={author_here.value}
        typed={typed}
        onType={type}
        onMember={works}
        onName={works_by_name}
      />
      <button type="button" onClick={not_now}>
        {author_here.value ? "Leave it" : "Not now"}
      </button>
    </section>
  );
}
