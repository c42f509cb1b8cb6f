// How a rinsed zone dries, beside what was foretold of its own head: asked once, as the result.
import { useEffect } from "preact/hooks";
import { waiting_words } from "../../engine/where";
import { Stopped, Working } from "../../parts/notice";
import { keep_look } from "../../salon/service/looks";
import { readings_of } from "../../salon/service/readings";
import { minutes_on, type Zone } from "../../salon/service/services";
import { LookWords, MeasuredLook } from ".";
import { judgement, watch_judgement } from "./actions";
import { Tip } from "./tip";

/** Returns the question how a rinsed zone dries, and what the answer says of its head. */
export function Dried({ zone }: { zone: Zone }) {
  useEffect(() => watch_judgement(zone.id), [zone.id]);
  const minute = minutes_on(zone);
  const before = readings_of(zone.id).findLast(({ where }) => where === "dried");
  return (
    <div class="judge">
      <Tip name="dry one" words="Dry one strand, both sides of the section, before correcting." />
      <LookWords
        legend={`Dry, ${zone.name ?? "it"} is`}
        value={before?.words}
        onWords={(words) =>
          void keep_look(zone, { minute, where: "dried", source: "eye", words }, before)
        }
      />
      <MeasuredLook
        form="dried"
        about={zone.id}
        words="Judge by this reading"
        onLab={(lab, source) =>
          void keep_look(zone, { minute, where: "dried", source, lab }, before)
        }
      />
      {before && <OfThisHead />}
    </div>
  );
}

function OfThisHead() {
  const asked = judgement.asked.value;
  if (asked.state === "nothing") return null;
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
