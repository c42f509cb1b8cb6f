// A regular with nothing new: today's checks, confirmed in one tap that names them all.
import type { Question } from "../../api/shapes";
import { answer } from "../../gate/answer";
import { use_settled } from "../../parts/settled";
import { all } from "../../records/read";
import type { Answer, Entity } from "../../records/shapes";

interface Quick {
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

const AIR_SAYS: Record<string, string> = {
  open: "a window or door open where you mix",
  extract: "the extract running where you mix",
};

/** The good air last confirmed on this phone: one salon has a window, another an extract. */
function air_here(): readonly [value: string, says: string] | undefined {
  const said = all("service").value.flatMap(
    ({ facts }) => (facts?.air as Answer | undefined) ?? [],
  );
  said.sort((a, b) => a.at.localeCompare(b.at));
  const value = String(said.at(-1)?.value ?? "open");
  const says = AIR_SAYS[value];
  return says ? [value, says] : undefined;
}

/** Returns the clean answers that one tap can give to these questions; none without the scalp. */
export function quick_answers(questions: readonly Question[]): Quick[] {
  if (!questions.some(({ fact }) => fact === "scalp")) return [];
  return questions.flatMap((question) => {
    const clean = question.fact === "air" ? air_here() : CLEAN[question.fact];
    const [value, says] = clean ?? [];
    if (!value || !says) return [];
    const words = question.answers.find((one) => one.value === value)?.words ?? value;
    return [{ question, value, words, says }];
  });
}

/** Returns the one tap, and the way to answer one by one. */
export function NothingNew({
  service,
  given,
  wait,
  onOther,
}: {
  service: Entity<"service">;
  given: readonly Quick[];
  /** While the last answer is being checked, another tap would answer twice. */
  wait: boolean;
  onOther: () => void;
}) {
  const takes_taps = use_settled() && !wait;
  return (
    <section class="stack" aria-label="Looked at today">
      <p>Look and ask first. Then confirm all of this:</p>
      <ul class="safety-confirmed">
        {given.map(({ question, says }) => (
          <li key={question.pointer}>{says}</li>
        ))}
      </ul>
      <button
        type="button"
        class="safety-answer"
        aria-disabled={!takes_taps}
        onClick={() => takes_taps && void answer(service, given)}
      >
        All true today
      </button>
      <button type="button" class="safety-answer" onClick={onOther}>
        Ask one by one
      </button>
    </section>
  );
}
