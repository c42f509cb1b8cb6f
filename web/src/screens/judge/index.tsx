// A look at the basin: one tap says how it differs, and what to do follows.
import { useState } from "preact/hooks";
import type { JudgementReply, Reading } from "../../api/shapes";
import { lab_of } from "../../bench/requests";
import { waiting_words } from "../../engine/where";
import { BigOrder } from "../../parts/big_order";
import { Choice } from "../../parts/choice";
import { Measured } from "../../parts/measured";
import { Stopped, Working } from "../../parts/notice";
import { judgement_at } from "../../salon/service/judged";
import { readings_of } from "../../salon/service/readings";
import type { Zone } from "../../salon/service/services";
import { keep_reading } from "./actions";
import "./style.css";
import { Tip } from "./tip";

type Words = NonNullable<Reading["words"]>;

const WORDS: readonly (readonly [Words, string])[] = [
  ["as_shown", "as shown"],
  ["pinker", "pinker"],
  ["yellower", "yellower"],
  ["greener", "greener"],
  ["more_violet", "more violet"],
  ["greyer", "greyer"],
  ["darker", "darker"],
  ["lighter", "lighter"],
  ["patchy", "patchy"],
];
const WORD_OF = new Map(WORDS);

interface JudgeProps {
  zone: Zone;
  /** The minute that is looked at: the present one, or the one it was rinsed at. */
  minute: number;
  rinsed?: boolean;
}

/** Returns the way to say that it looks different, and what follows from all that was said. */
export function Judge({ zone, minute, rinsed = false }: JudgeProps) {
  const readings = readings_of(zone.id);
  const dried = readings.some(({ where }) => where === "dried");
  return (
    <div class="judge">
      {readings.length > 0 && <Advised zone_id={zone.id} rinsed={rinsed} />}
      <details open={(rinsed && !dried) || undefined}>
        <summary>{rinsed ? "How is a dried strand?" : "Looks different"}</summary>
        <Look zone={zone} minute={minute} rinsed={rinsed} />
      </details>
      {readings.length > 0 && (
        <p class="quiet">
          Said so far:{" "}
          {readings
            .map(
              ({ minute: at, words, lab }) =>
                `minute ${at}, ${words ? (WORD_OF.get(words) ?? words) : `reading ${lab?.join(", ")}`}`,
            )
            .join("; ")}
          .
        </p>
      )}
    </div>
  );
}

function Look({ zone, minute, rinsed }: Required<JudgeProps>) {
  const [where, put_where] = useState<Reading["where"]>("wiped");
  const [source, put_source] = useState<Reading["source"]>("instrument");
  const at = rinsed ? ("dried" as const) : where;
  return (
    <div class="stack">
      {rinsed ? (
        <Tip name="dry one" words="Dry one strand, both sides of the section, before correcting." />
      ) : (
        <>
          <Tip
            name="fan"
            words="Wipe a strand on both sides of the section and fan it on a white towel before you judge."
          />
          <Choice
            legend="Looking at"
            options={[
              ["wiped", "a wiped strand"],
              ["on_head", "the head, product on"],
              ["dried", "a dried strand"],
            ]}
            value={where}
            onChoose={put_where}
          />
        </>
      )}
      <fieldset>
        <legend>Beside the strip it is</legend>
        <div class="judge-words">
          {WORDS.map(([words, said]) => (
            <button
              key={words}
              type="button"
              onClick={() => void keep_reading(zone, { minute, where: at, source: "eye", words })}
            >
              {said}
            </button>
          ))}
        </div>
      </fieldset>
      <Measured
        lab_of={lab_of}
        words="Judge by this reading"
        onLab={(lab) => void keep_reading(zone, { minute, where: at, source, lab })}
      >
        <Choice
          legend="Measured by"
          options={[
            ["instrument", "an instrument"],
            ["photo", "a photo with a grey card"],
          ]}
          value={source}
          onChoose={put_source}
        />
      </Measured>
    </div>
  );
}

function Advised({ zone_id, rinsed }: { zone_id: string; rinsed: boolean }) {
  const judgement = judgement_at(zone_id);
  const asked = judgement.asked.value;
  if (asked.state === "nothing") return null;
  if (asked.state === "working") {
    return <Working what="Judging this head…" waiting={waiting_words.value} />;
  }
  if (asked.state === "failed") {
    return <Stopped sentence={asked.sentence} onAgain={() => judgement.again()} />;
  }
  const { advice, this_head, surprise, too_early, too_late } = asked.answer.reply;
  return (
    <section class="judge-advice" aria-label="What to do" aria-live="polite">
      {!rinsed && (
        <div class="judge-order">
          <BigOrder {...order_of(advice)} />
        </div>
      )}
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
      {!rinsed && (too_early || too_late) && (
        <details>
          <summary>What too early or too late costs</summary>
          <div class="stack">
            {too_early && <p>{too_early.words}</p>}
            {too_late && <p>{too_late.words}</p>}
          </div>
        </details>
      )}
    </section>
  );
}

/** Returns an advice in the fewest words, and the minute it is for. */
function order_of({ do: what, at_minute, words }: JudgementReply["advice"]) {
  const at = { why: words, ...(at_minute !== undefined && { figure: String(at_minute) }) };
  switch (what) {
    case "wait":
      return { verb: at.figure ? "Wait until" : "Wait", ...at };
    case "look_again":
      return { verb: at.figure ? "Look again at" : "Look again", ...at };
    case "rinse":
      return { verb: "Rinse now", why: words };
    case "saturate_again":
      return { verb: "Saturate again", why: words };
  }
}
