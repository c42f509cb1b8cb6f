// A look at the basin, in full: at the head, a wiped or a dried strand, by a word or measured.
import { useMemo, useState } from "preact/hooks";
import type { Reading } from "../../api/shapes";
import { Choice } from "../../parts/choice";
import { held_of } from "../../prediction/held";
import { keep_look, look_words } from "../../salon/service/looks";
import { readings_of } from "../../salon/service/readings";
import type { Zone } from "../../salon/service/services";
import { MeasuredLook } from "./measured";
import "./style.css";
import { Tip } from "./tip";
import { LookWords } from "./words";

interface JudgeProps {
  zone: Zone;
  /** The present minute. */
  minute: number;
  /** Says that a look was kept: its answer is shown where the order is. */
  onKept: () => void;
}

/** Returns the ways to say that a zone looks different, and what was said of it so far. */
export function Judge({ zone, minute, onKept }: JudgeProps) {
  const [where, put_where] = useState<Reading["where"]>("wiped");
  const keep = async (said: Pick<Reading, "source" | "lab" | "words">) => {
    await keep_look(zone, { minute, where, ...said });
    onKept();
  };
  return (
    <div class="judge">
      <details>
        <summary>Looks different</summary>
        <div class="stack">
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
          <LookWords
            legend="Beside the strip it is"
            onWords={(words) => keep({ source: "eye", words })}
          />
          <MeasuredLook
            form="look"
            about={zone.id}
            words="Judge by this reading"
            onLab={(lab, source) => keep({ source, lab })}
          />
        </div>
      </details>
      <Said zone={zone} />
    </div>
  );
}

/** What was said so far, what it says of this head, and what too early or too late would cost. */
function Said({ zone }: { zone: Zone }) {
  const { prediction } = useMemo(() => held_of(zone.id), [zone.id]).value;
  const readings = readings_of(zone.id);
  if (readings.length === 0) return null;
  const { this_head, advice, too_early, too_late } = prediction ?? {};
  return (
    <>
      {this_head && <p>{this_head}</p>}
      <p class="quiet">
        Said so far:{" "}
        {readings.map((look) => `minute ${look.minute}, ${look_words(look)}`).join("; ")}.
      </p>
      {(advice || too_early || too_late) && (
        <details>
          <summary>Why, and what too early or too late costs</summary>
          <div class="stack">
            {[advice, too_early, too_late].map((words) => words && <p key={words}>{words}</p>)}
          </div>
        </details>
      )}
    </>
  );
}
