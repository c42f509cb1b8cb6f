// The team: the names that one tap puts on entries.
import { useState } from "preact/hooks";
import { useTyped, useTypedOver } from "../../device/typed";
import { TextField } from "../../parts/text";
import { all } from "../../records/read";
import { change, set_setting, together } from "../../records/write";
import { salon_name, salon_name_key } from "../../salon/salon_name";
import { ask_who, join_team, worker_name } from "../../salon/who";
import "./team.css";

const MOST_LENGTH = 60;

/** One name of the team, kept from its first key on; an empty one changes nothing. */
function KnownName({ id, known }: { id: string; known: string }) {
  const field = useTypedOver("person name", id, known, async (typed) => {
    if (typed.trim()) await change("person", id, { name: typed.trim() }, "Changed a name.");
  });
  return <TextField label="Name" mostLength={MOST_LENGTH} {...field} />;
}

/** Returns the team with who is working here; names can be added, changed and taken off. */
export function Team() {
  const [name, type] = useTyped("team", "", "");
  const [fault, put_fault] = useState("");
  const people = all("person").value;
  const salon = useTypedOver("salon name", "", salon_name(), (typed) =>
    set_setting(salon_name_key, typed.trim(), "Named the salon."),
  );
  const add = async () => {
    try {
      await join_team(name);
      type("");
      put_fault("");
    } catch (why) {
      put_fault(why instanceof Error ? why.message : String(why));
    }
  };
  return (
    <div class="stack" id="team">
      <h3>Team</h3>
      <TextField
        label="The salon’s name"
        mostLength={MOST_LENGTH}
        note="Printed records carry this name."
        {...salon}
      />
      <p>
        {worker_name.value
          ? `${worker_name.value} is working on this phone.`
          : "No name is set. Records carry the phone’s name."}
      </p>
      <button type="button" onClick={ask_who}>
        {worker_name.value ? "Change who is working" : "Say who is working"}
      </button>
      {people.map(({ id, name: known = "" }) => (
        <div key={id} class="team-one">
          <KnownName id={id} known={known} />
          <button
            type="button"
            aria-label={`Take ${known} off the team`}
            onClick={() =>
              void together([{ do: "remove", kind: "person", id }], `Took ${known} off.`)
            }
          >
            Take off
          </button>
        </div>
      ))}
      <form
        class="team-one"
        onSubmit={(event) => {
          event.preventDefault();
          if (name.trim()) void add();
        }}
      >
        <TextField
          label="Another name"
          value={name}
          onType={type}
          fault={fault}
          mostLength={MOST_LENGTH}
        />
        <button type="submit" disabled={!name.trim()}>
          Add
        </button>
      </form>
    </div>
  );
}
