// The given answers, with their days; one tap answers again.
import { useState } from "preact/hooks";
import type { Question } from "../../api/shapes";
import { date_words } from "../../device/when";
import type { Said } from "../../gate/answer";
import type { Entity } from "../../records/shapes";
import { answers_of } from "../../salon/service/answers";
import { Asking } from "./question";

/** Returns the answers on one page, under one tap. */
export function Given({ service }: { service: Entity<"service"> }) {
  const [changing, put_changing] = useState("");
  const given = Object.entries(answers_of(service)).flatMap(([fact, said]) => {
    const answer = said as Said | null;
    return answer?.asked ? [[fact, answer] as const] : [];
  });
  if (given.length === 0) return null;
  return (
    <details>
      <summary>Answers, {given.length}</summary>
      <ul class="safety-given">
        {given.map(([fact, { asked = "", words, at, options = [], value }]) => (
          <li key={fact}>
            {changing === fact ? (
              <Asking
                service={service}
                question={as_question(service, fact, { asked, options, value })}
                onDone={() => put_changing("")}
              />
            ) : (
              <>
                <p>
                  {asked} <strong>{words}</strong> <span class="quiet">{date_words(at)}</span>
                </p>
                {!fact.includes(":") && (
                  <button type="button" onClick={() => put_changing(fact)}>
                    Another answer
                  </button>
                )}
              </>
            )}
          </li>
        ))}
      </ul>
    </details>
  );
}

/** An answer's question, as it was asked: the rules ask it no more while it has an answer. */
function as_question(
  service: Entity<"service">,
  fact: string,
  { asked, options, value }: { asked: string; options: Question["answers"]; value: unknown },
): Question {
  const is_of_visit = fact in (service.facts ?? {});
  return {
    fact,
    pointer: `/facts/${fact}`,
    words: asked,
    answers: options,
    closes: [],
    may_skip: false,
    fresh: false,
    of: is_of_visit ? "colourist" : "client",
    kept_with: is_of_visit ? "service" : "client",
    input: options.length > 0 ? "choice" : Array.isArray(value) ? "past" : "number",
  };
}
