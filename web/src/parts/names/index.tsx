// The names of a team, one tap each, and a field for a new one; and the question for one's own.
import { useEffect, useId, useRef, useState } from "preact/hooks";
import { TextField } from "../text";
import "./style.css";

const MOST_LENGTH = 60;

interface NamesProps {
  members: readonly { id: string; name: string }[];
  /** The id of the chosen name; empty for none. */
  chosen: string;
  /** A new name as far as it is typed, and the way to change it. */
  typed: string;
  onType: (typed: string) => void;
  onMember: (id: string) => Promise<void>;
  onName: (name: string) => Promise<void>;
}

interface MyNameProps {
  /** The names, of which one's own is tapped or typed. */
  names: NamesProps;
  heading: string;
  note: string;
  /** What goes on without a name: its words, and what it does. */
  without: string;
  onWithout: () => void;
  /** Whether the question takes the place of the page: its heading then leads, and is read out. */
  leads?: boolean;
  class?: string;
}

/** Returns the question for one's own name, with the way on without one. */
export function MyName(props: MyNameProps) {
  const { names, heading, note, without, onWithout, leads = false, class: also = "" } = props;
  const id = useId();
  const first = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (leads) first.current?.focus();
  }, []);
  return (
    <section class={`stack ${also}`} aria-labelledby={id}>
      {leads ? (
        <h2 ref={first} id={id} tabIndex={-1}>
          {heading}
        </h2>
      ) : (
        <h3 id={id}>{heading}</h3>
      )}
      <p class="quiet">{note}</p>
      <Names {...names} />
      <button type="button" onClick={onWithout}>
        {without}
      </button>
    </section>
  );
}

/** Returns the names; if one could not be kept, the field says why and keeps the text. */
function Names({ members, chosen, typed: name, onType, onMember, onName }: NamesProps) {
  const [fault, put_fault] = useState("");
  const say = async (said: Promise<void>) => {
    try {
      await said;
    } catch (why) {
      put_fault(why instanceof Error ? why.message : String(why));
    }
  };
  return (
    <>
      {members.map((member) => (
        <button
          key={member.id}
          type="button"
          class="names-one"
          aria-pressed={member.id === chosen}
          onClick={() => void say(onMember(member.id))}
        >
          {member.name}
        </button>
      ))}
      <form
        class="names-new"
        onSubmit={(event) => {
          event.preventDefault();
          if (name.trim()) void say(onName(name.trim()).then(() => onType("")));
        }}
      >
        <TextField
          label={members.length > 0 ? "Another name" : "Your name"}
          value={name}
          onType={onType}
          fault={fault}
          mostLength={MOST_LENGTH}
        />
        <button type="submit" disabled={!name.trim()}>
          It’s me
        </button>
      </form>
    </>
  );
}
