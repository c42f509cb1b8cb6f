// A regular with nothing new: what was looked at today, said in one tap that names all it says.
import type { Question } from "../../api/shapes";
import { answer } from "../../gate/answer";
import type { Entity } from "../../records/shapes";

export interface Quick {
  question: Question;
  value: string;
  words: string;
  says: string;
}

const CLEAN: Record<string, readonly [value: string, says: string]> = {
  scalp: ["sound", "scalp sound"],
  face_rash: ["no", "face and neck clear"],
  change_since_test: ["no", "nothing new since the test"],
  test_masking: ["no", "no steroid, immune medicine, sunburn or cream at the test"],
  hair_doubt: ["no", "no doubt about this hair"],
  gloves: ["yes", "fresh gloves on"],
};

/** Returns the clean answers that one tap can give to these questions; none without the scalp. */
export function quick_answers(questions: readonly Question[]): Quick[] {
  if (!questions.some(({ fact }) => fact === "scalp")) return [];
  return questions.flatMap((question) => {
    const [value, says] = CLEAN[question.fact] ?? [];
    if (!value || !says) return [];
    const words = question.answers.find((one) => one.value === value)?.words ?? value;
    return [{ question, value, words, says }];
  });
}

/** Returns the one tap, and the way to answer apart. */
export function NothingNew({
  service,
  given,
  onOther,
}: {
  service: Entity<"service">;
  given: readonly Quick[];
  onOther: () => void;
}) {
  return (
    <section class="stack" aria-label="Looked at today">
      <p>Look and ask first. Then all of this in one tap:</p>
      <ul>
        {given.map(({ question, says }) => (
          <li key={question.pointer}>{says}</li>
        ))}
      </ul>
      <button type="button" class="safety-answer" onClick={() => void answer(service, given)}>
        All of this holds today
      </button>
      <button type="button" class="safety-answer" onClick={onOther}>
        Something differs: one by one
      </button>
    </section>
  );
}
