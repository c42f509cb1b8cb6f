// What was answered, with its day; one tap lets an answer be given anew.
import { useState } from "preact/hooks";
import type { Question } from "../../api/shapes";
import { date_words } from "../../device/when";
import type { Said } from "../../gate/answer";
import { answers_of, OF_CLIENT } from "../../gate/facts";
import type { Entity } from "../../records/shapes";
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
        {given.map(([fact, { asked = "", words, at, options = [] }]) => (
          <li key={fact}>
            {changing === fact ? (
              <Asking
                service={service}
                question={as_question(fact, asked, options)}
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

function as_question(fact: string, words: string, answers: Question["answers"]): Question {
  const of = OF_CLIENT.has(fact) ? "client" : "colourist";
  return {
    fact,
    pointer: `/facts/${fact}`,
    words,
    answers,
    closes: [],
    may_skip: false,
    fresh: false,
    of,
  };
}
