// From a tried mix to the work: for a known client, a new one, or nobody.
import { useEffect, useRef, useState } from "preact/hooks";
import { chosen_formula } from "../../bench/chosen";
import { ANYBODY, is_typed, useTyped } from "../../device/typed";
import { Choice } from "../../parts/choice";
import { TextField } from "../../parts/text";
import { go } from "../../place";
import { NotKept } from "../../records/write";
import { clients_named, found_by_name } from "../../salon/clients";
import { type ForWhom, start_tried } from "../../salon/service/tried";
import "./style.css";

const FORM = "start_for";
const MOST_FOUND = 6;

/** Returns the two ways to start; nothing while no mix is chosen. */
export function StartTried() {
  const [asks, put_asks] = useState(is_typed(FORM, ANYBODY));
  const [fault, put_fault] = useState("");
  const [name, type, forget] = useTyped(FORM, ANYBODY, "");
  const starts = useRef(false);
  const formula = chosen_formula.value;
  if (!formula) return null;
  const start = async (whom: ForWhom) => {
    // A wet glove taps twice: one visit is meant.
    if (starts.current) return;
    starts.current = true;
    try {
      const service = await start_tried(formula, whom);
      forget();
      go("service", service);
    } catch (why) {
      if (!(why instanceof NotKept)) throw why;
      put_fault(why.message);
    } finally {
      starts.current = false;
    }
  };
  const close = () => {
    forget();
    put_asks(false);
  };
  return (
    <section class="stack start" aria-label="Start with this mix">
      {asks ? (
        <ForClient name={name} onType={type} onStart={(whom) => void start(whom)} onClose={close} />
      ) : (
        <div class="start-ways">
          <button type="button" onClick={() => put_asks(true)}>
            Start for a client
          </button>
          <button type="button" onClick={() => void start("nobody")}>
            Start for nobody
          </button>
        </div>
      )}
      {fault && (
        <p role="alert">
          <strong>{fault}</strong>
        </p>
      )}
    </section>
  );
}

interface ForClientProps {
  name: string;
  onType: (name: string) => void;
  onStart: (whom: ForWhom) => void;
  onClose: () => void;
}

/** Asks for whom: a known client is one tap, a new one needs a name. */
function ForClient({ name, onType, onStart, onClose }: ForClientProps) {
  const form = useRef<HTMLDivElement>(null);
  useEffect(() => form.current?.querySelector("input")?.focus(), []);
  const found = found_by_name(name);
  const wanted = name.trim();
  const known = clients_named(wanted).length > 0;
  return (
    <>
      <div ref={form}>
        <TextField label="Client’s name" value={name} onType={onType} />
      </div>
      {found.length > 0 && (
        <Choice
          legend="Known clients"
          options={found
            .slice(0, MOST_FOUND)
            .map(({ id, name: called }) => [id, called ?? "no name"] as const)}
          value={undefined}
          onChoose={(client) => onStart({ client })}
        />
      )}
      <div class="start-ways">
        <button type="button" disabled={!wanted} onClick={() => onStart({ name: wanted })}>
          {known ? "Another client of this name" : "New client"}
        </button>
        <button type="button" onClick={onClose}>
          Not now
        </button>
      </div>
    </>
  );
}
