// What a dried strand says of a head, as the engine judges it.
import { useEffect } from "preact/hooks";
import { waiting_words } from "../../engine/where";
import { Stopped, Working } from "../../parts/notice";
import { judgement, watch_judgement } from "./actions";
import "./style.css";

interface OfThisHeadProps {
  zone: string;
  /** Whether somebody has said how it dried. */
  shown: boolean;
}

/** Keeps a rinsed zone judged, and returns what its head showed. */
export function OfThisHead({ zone, shown }: OfThisHeadProps) {
  useEffect(() => watch_judgement(zone), [zone]);
  const asked = judgement.asked.value;
  if (!shown || asked.state === "nothing") return null;
  if (asked.state === "working") {
    return <Working what="Judging this head…" waiting={waiting_words.value} />;
  }
  if (asked.state === "failed") {
    return <Stopped sentence={asked.sentence} onAgain={() => judgement.again()} />;
  }
  const { this_head, surprise } = asked.answer.reply;
  return (
    <section class="judge-advice" aria-label="What it says of this head" aria-live="polite">
      <p>{this_head}</p>
      {surprise && (
        <div class="notice">
          <p>
            <strong>{surprise.words}</strong>
          </p>
          <ul>
            {surprise.could_be.map(({ words }) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </div>
      )}
    </section>
  );
}
