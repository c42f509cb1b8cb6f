// The names of a team, one tap each, and a field for a new one.
import { useState } from "preact/hooks";
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

/** Returns the names; if one could not be kept, the field says why and keeps the text. */
export function Names({ members, chosen, typed: name, onType, onMember, onName }: NamesProps) {
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
