// Questions nobody has to be asked, whose answers help: a pregnancy, the worker's own skin.
import { useState } from "preact/hooks";
import type { Question } from "../../api/shapes";
import type { Entity } from "../../records/shapes";
import { Asking } from "./question";

/** Returns the questions under one tap, each opened by itself; nothing without any. */
export function Also({
  service,
  questions,
}: {
  service: Entity<"service">;
  questions: readonly Question[];
}) {
  const [open, put_open] = useState("");
  if (questions.length === 0) return null;
  return (
    <details>
      <summary>More to note</summary>
      <ul class="safety-given">
        {questions.map((question) => (
          <li key={question.pointer}>
            {open === question.pointer ? (
              <Asking service={service} question={question} onDone={() => put_open("")} />
            ) : (
              <button type="button" onClick={() => put_open(question.pointer)}>
                {question.words}
              </button>
            )}
          </li>
        ))}
      </ul>
    </details>
  );
}
