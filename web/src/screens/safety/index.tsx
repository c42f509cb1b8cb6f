// The safety of a service: the open questions, what holds it, what somebody must decide.
import { useState } from "preact/hooks";
import type { Question } from "../../api/shapes";
import { is_answered } from "../../gate/answer";
import { gate_of } from "../../gate/state";
import { one } from "../../records/read";
import type { Entity } from "../../records/shapes";
import { is_rinsed } from "../../salon/service/mixed";
import { Also } from "./also";
import { Findings } from "./findings";
import { Given } from "./given";
import { FromPaper } from "./paper";
import { Asking } from "./question";
import { NothingNew, quick_answers } from "./quick";
import { WaysWhileHeld } from "./ways";
import { Where } from "./where";
import "./style.css";

/** Returns the questions: those that hold the service, and optional ones. */
function asked_of(service: Entity<"service">): { waiting: Question[]; also: Question[] } {
  const { reply } = gate_of(service.id);
  const holding = new Set(
    reply?.findings.filter(({ group }) => group !== "good_to_know").map(({ id }) => id),
  );
  const open = (reply?.questions ?? []).filter(
    (question) =>
      question.of !== "app" && question.input !== "elsewhere" && !is_answered(service, question),
  );
  const holds = ({ closes }: Question) => closes.some((rule) => holding.has(rule));
  const sayable = ({ of, answers }: Question) => of !== "card" && answers.length > 0;
  return {
    waiting: open.filter(holds),
    also: open.filter((question) => !holds(question) && sayable(question)),
  };
}

/** Returns the questions, one after the other, and the rules' findings under them. */
export function Safety({ service: { id } }: { service: Entity<"service"> }) {
  const [one_by_one, put_one_by_one] = useState(false);
  const service = one("service", id).value;
  const { reply, is_current, sentence } = gate_of(id);
  if (!service) return null;
  if (is_rinsed(id)) {
    return (
      <div class="stack safety">
        <p>All is rinsed, so nothing is held. Choose a second mix to check it.</p>
        <Given service={service} />
      </div>
    );
  }
  if (!reply) {
    return (
      <div class="stack" role="status">
        <p>{sentence || "Asking the safety rules…"}</p>
        <p>Wait for their answer.</p>
      </div>
    );
  }
  const { waiting, also } = asked_of(service);
  const quick = one_by_one ? [] : quick_answers(waiting);
  const next = waiting.find((question) => !quick.some((given) => given.question === question));
  return (
    <div class="stack safety" data-asks={waiting.length > 0 || !is_current ? "yes" : "no"}>
      {sentence && <p role="status">{sentence} Wait for the rules to answer.</p>}
      {next ? (
        <Asking
          key={next.pointer}
          service={service}
          question={next}
          left={waiting.length}
          wait={!is_current}
        />
      ) : (
        quick.length > 0 && (
          <NothingNew service={service} given={quick} onOther={() => put_one_by_one(true)} />
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
