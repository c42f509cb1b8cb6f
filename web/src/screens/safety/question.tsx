// One question at a time, with its answers as large as a thumb.

import { useState } from "preact/hooks";
import type { Question } from "../../api/shapes";
import { useTyped } from "../../device/typed";
import { answer, draft_name, lower } from "../../gate/answer";
import { use_settled } from "../../parts/settled";
import { TextField } from "../../parts/text";
import type { Entity } from "../../records/shapes";
import { CautionNeedsDecision } from "../../records/write";
import { HairPast } from "./past";

interface AskingProps {
  service: Entity<"service">;
  question: Question;
  /** How many questions are left, this one included; without it nothing shows. */
  left?: number;
  /** While the last answer is being checked, another tap would answer too early. */
  wait?: boolean;
  onDone?: () => void;
  /** Takes the place of asking what was seen, where the client answers. */
  onCaution?: () => void;
}

type Picked = { question: Question; value: unknown; words: string };

/** Returns the question; an answer that says less than the record asks what was seen. */
export function Asking(props: AskingProps) {
  const { service, question, left, wait = false, onDone, onCaution } = props;
  const [lowering, put_lowering] = useState<(Picked & { says: string }) | null>(null);
  const [given, put_given] = useState<unknown>();
  const takes_taps = use_settled() && !wait;
  const give = async (value: unknown, words: string) => {
    put_given(value);
    try {
      await answer(service, [{ question, value, words }]);
      onDone?.();
    } catch (why) {
      if (!(why instanceof CautionNeedsDecision)) throw why;
      if (onCaution) return onCaution();
      put_lowering({ question, value, words, says: why.message });
    }
  };
  return (
    <section class="stack" aria-label="Question">
      <h3>{question.words}</h3>
      {left !== undefined && (
        <p class="quiet">
          {question.of === "client" ? "For the client: " : "For you: "}
          {left === 1 ? "the last question" : `${left} questions left`}
        </p>
      )}
      {lowering ? (
        <Lowering service={service} picked={lowering} onDone={() => onDone?.()} />
      ) : question.input === "past" ? (
        <HairPast about={service.id} onDone={(value, words) => void give(value, words)} />
      ) : question.input === "choice" ? (
        question.answers.map(({ value, words }) => (
          <button
            key={value}
            type="button"
            class="safety-answer"
            aria-pressed={wait && given === value}
            aria-disabled={!takes_taps}
            onClick={() => takes_taps && void give(value, words)}
          >
            {words}
          </button>
        ))
      ) : (
        <Typed
          service={service.id}
          question={question}
          wait={!takes_taps}
          onGive={(value, words) => void give(value, words)}
        />
      )}
    </section>
  );
}

/** A number or a few words, and the way on for whoever does not know. */
function Typed({
  service,
  question,
  wait,
  onGive,
}: {
  service: string;
  question: Question;
  wait: boolean;
  onGive: (value: unknown, words: string) => void;
}) {
  const [text, put_text, forget] = useTyped(draft_name(question), service, "");
  const is_text = question.input === "text";
  const number = Number(text.replace(",", "."));
  const can = text.trim() !== "" && (is_text || (Number.isFinite(number) && number >= 0));
  return (
    <>
      <TextField
        label={is_text ? "As printed there" : "Number"}
        value={text}
        onType={put_text}
        inputMode={is_text ? "text" : "decimal"}
      />
      <button
        type="button"
        class="safety-answer"
        disabled={!can}
        aria-disabled={wait}
        onClick={() => {
          if (wait) return;
          onGive(is_text ? text.trim() : number, text.trim());
          forget();
        }}
      >
        Keep this
      </button>
      <button
        type="button"
        class="safety-answer"
        aria-disabled={wait}
        onClick={() => !wait && onGive(null, "Not known")}
      >
        Not known
      </button>
    </>
  );
}

function Lowering({
  service,
  picked,
  onDone,
}: {
  service: Entity<"service">;
  picked: Picked & { says: string };
  onDone: () => void;
}) {
  const nothing = { saw: "", why: "" };
  const [typed, put, forget] = useTyped(`lower ${picked.question.fact}`, service.id, nothing);
  const { saw, why } = typed;
  return (
    <>
      <p>{picked.says}</p>
      <TextField
        label="What you saw"
        value={saw}
        onType={(words) => put({ ...typed, saw: words })}
      />
      <TextField
        label="Why it may be cleared"
        value={why}
        onType={(words) => put({ ...typed, why: words })}
      />
      <button
        type="button"
        class="safety-answer"
        disabled={!saw.trim() || !why.trim()}
        onClick={async () => {
          await lower(service, picked, saw.trim(), why.trim());
          forget();
          onDone();
        }}
      >
        Keep this
      </button>
    </>
  );
}
