// The phone turned to the client: the client's questions in their own words, one at a time, and
// nothing else of the salon. A hold hands the phone back, so that no stray tap does.
import { useEffect, useState } from "preact/hooks";
import { ringing } from "../alarm";
import type { Question } from "../api/shapes";
import { watch_gate } from "../gate/held";
import { gate_of } from "../gate/state";
import { HoldButton } from "../parts/hold";
import { one, records_ready } from "../records/read";
import type { Entity } from "../records/shapes";
import { hand_back } from "../salon/handed_over";
import { Asking } from "../screens/safety/question";
import "./handed_over.css";

/** Returns the questions of a service's client, in place of the whole page. */
export function HandedOver({ id }: { id: string }) {
  useEffect(() => watch_gate(id), [id]);
  const service = one("service", id).value;
  return (
    <main class="handed">
      <div class="handed-scroll stack">
        {records_ready.value && service ? <Questions service={service} /> : <Thanks />}
      </div>
      <div class="handed-bar">
        {ringing.value.length > 0 && <p role="alert">A clock rings. Hand the phone back now.</p>}
        <HoldButton words="Hold to hand back" again="Press again to hand back" onHeld={hand_back} />
      </div>
    </main>
  );
}

function Questions({ service }: { service: Entity<"service"> }) {
  const [passed, put_passed] = useState<readonly string[]>([]);
  const [most, put_most] = useState(0);
  const { asked, is_current, sentence } = gate_of(service.id);
  if (!asked) return <p role="status">{sentence || "One moment…"}</p>;
  const left = asked.waiting.filter(
    (question) => question.of === "client" && !passed.includes(question.pointer),
  );
  const [next] = left;
  if (!next) return is_current ? <Thanks /> : <p role="status">{sentence || "One moment…"}</p>;
  if (left.length > most) put_most(left.length);
  const pass = () => put_passed([...passed, next.pointer]);
  return (
    <>
      <p class="quiet">
        {Math.max(most, left.length) - left.length + 1} of {Math.max(most, left.length)}
      </p>
      <Asking
        key={next.pointer}
        service={service}
        question={as_read(next)}
        wait={!is_current}
        onCaution={pass}
      />
      <button type="button" class="handed-pass" onClick={pass}>
        I would rather say it
      </button>
    </>
  );
}

/** A question in the client's words; the answer is kept with them. */
function as_read(question: Question): Question {
  return { ...question, words: question.to_client || question.words };
}

function Thanks() {
  return (
    <>
      <h1>Thank you</h1>
      <p>Please hand the phone back.</p>
    </>
  );
}
