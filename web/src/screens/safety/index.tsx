// The safety of a service: the open questions, what holds it, what somebody must decide.
import { useState } from "preact/hooks";
import { gate_of } from "../../gate/state";
import { one } from "../../records/read";
import type { Entity } from "../../records/shapes";
import { hand_over } from "../../salon/handed_over";
import { is_rinsed } from "../../salon/service/mixed";
import { Also } from "./also";
import { Findings } from "./findings";
import { Given } from "./given";
import { pack_answers, ThePack } from "./pack";
import { FromPaper } from "./paper";
import { Asking } from "./question";
import { NothingNew, quick_answers } from "./quick";
import { WaysWhileHeld } from "./ways";
import { Where } from "./where";
import "./style.css";

/** Returns the questions, one after the other, and the rules' findings under them. */
export function Safety({ service: { id } }: { service: Entity<"service"> }) {
  const [one_by_one, put_one_by_one] = useState(false);
  const [pack_by_one, put_pack_by_one] = useState(false);
  const service = one("service", id).value;
  const { reply, asked, is_current, sentence } = gate_of(id);
  if (!service) return null;
  if (is_rinsed(id)) {
    return (
      <div class="stack safety">
        <p>All is rinsed, so nothing is held. Choose a second mix to check it.</p>
        <Given service={service} />
      </div>
    );
  }
  if (!reply || !asked) {
    return (
      <div class="stack" role="status">
        <p>{sentence || "Asking the safety rules…"}</p>
        <p>Wait for their answer.</p>
      </div>
    );
  }
  const { waiting, also } = asked;
  const quick = one_by_one ? [] : quick_answers(waiting);
  // The client's come together, so that the phone can be handed over; the colourist's after them.
  const pack = pack_by_one ? undefined : pack_answers(waiting);
  const together_said = new Set(
    [...quick, ...(pack?.given ?? [])].map(({ question }) => question).concat(pack?.version ?? []),
  );
  const open = waiting.filter((question) => !together_said.has(question));
  const theirs = open.filter(({ of }) => of === "client");
  // The pack goes first: without heat, for one, nobody asks whether the leaflet allows heat.
  const together = theirs.length > 0 ? theirs : pack ? [] : open;
  const [next] = together;
  return (
    <div
      class="stack safety"
      data-asks={is_current ? (waiting.length > 0 ? "yes" : "no") : "checking"}
    >
      {sentence && <p role="status">{sentence} Wait for the rules to answer.</p>}
      {next ? (
        <>
          {theirs.length > 0 && (
            <button type="button" class="safety-answer" onClick={() => void hand_over(id)}>
              Hand phone to client
            </button>
          )}
          <Asking
            key={next.pointer}
            service={service}
            question={next}
            left={together.length}
            wait={!is_current}
          />
        </>
      ) : pack ? (
        <ThePack
          service={service}
          {...pack}
          wait={!is_current}
          onOther={() => put_pack_by_one(true)}
        />
      ) : (
        quick.length > 0 && (
          <NothingNew
            service={service}
            given={quick}
            wait={!is_current}
            onOther={() => put_one_by_one(true)}
          />
        )
      )}
      <FromPaper service={service} state={reply.alert_test} />
      <Findings service={service} reply={reply} is_current={is_current} asked={waiting} />
      <WaysWhileHeld service={service} reply={reply} />
      <Where service={service} />
      <Also service={service} questions={also} />
      <Given service={service} />
    </div>
  );
}
