// Which questions of the rules' answer are still to be put to somebody.
import type { Question, SafetyReviewReply } from "../api/shapes";
import type { Entity } from "../records/shapes";
import { is_answered } from "./answer";
import type { Asked } from "./state";

/** Returns the questions that hold the service, and those that only help. */
export function asked_by(service: Entity<"service">, reply: SafetyReviewReply): Asked {
  const holding = new Set(
    reply.findings.filter(({ group }) => group !== "good_to_know").map(({ id }) => id),
  );
  const open = reply.questions.filter(
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
