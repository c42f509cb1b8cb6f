// Under the lightener: when to look, what was seen, and whether that is light enough for the wish.
import { useEffect, useRef } from "preact/hooks";
import type { LighteningReply } from "../../api/shapes";
import { lab_of } from "../../bench/requests";
import { useTyped } from "../../device/typed";
import { waiting_words } from "../../engine/where";
import { BigOrder } from "../../parts/big_order";
import { ClockLines } from "../../parts/clock";
import { LevelChart } from "../../parts/levels";
import { Measured, NO_READING } from "../../parts/measured";
import { Stopped, Working } from "../../parts/notice";
import { address_of } from "../../place";
import { minute_of, now_ms, type Running, running } from "../../salon/service/running";
import type { Zone } from "../../salon/service/services";
import { lightening, look, seen_words, take_deeper, watch_lightening } from "./actions";
import "./style.css";

/** Returns the section "On the head" of a zone under a lightener. */
export function UnderLightener({ zone, clock }: { zone: Zone; clock: Running }) {
  useEffect(() => watch_lightening(zone.id), [zone.id]);
  const minute = minute_of(clock, now_ms.value);
  const seen = zone.looked;
  const [typed, put_typed] = useTyped("lightened", zone.id, NO_READING);
  const by_eye = seen && "level" in seen ? seen : undefined;
  const top = useRef<HTMLDivElement>(null);
  // The look was tapped far below: its answer comes to where the eye is, and the order with it.
  const looked = useRef(false);
  const answered = lightening.asked.value.state === "answered";
  useEffect(() => {
    if (!answered || !looked.current) return;
    looked.current = false;
    top.current?.scrollIntoView({ block: "start" });
  }, [answered, lightening.asked.value]);
  const say = (now: Parameters<typeof look>[1]) => {
    looked.current = true;
    void look(zone, now);
  };
  return (
    <>
      <div ref={top}>
        <BigOrder {...order_of(clock, zone, minute)} />
      </div>
      {seen && <Answered />}
      <ClockLines
        clocks={running.value.filter(({ service }) => service === clock.service)}
        now_ms={now_ms.value}
      />
      <a class="button" href={address_of("reaction", clock.service)}>
        It tingles or burns
      </a>
      <details open>
        <summary>
          {seen ? `Seen at minute ${seen.minute}: ${seen_words(seen)}` : "Look now"}
        </summary>
        <div class="stack">
          <p>
            Wipe a strand clean and find it in the chart: how light it is now, wet. Look at the
            slowest part, and at the scalp.
          </p>
          <div class="surround">
            <LevelChart
              level={by_eye?.level ?? 10}
              warmth={by_eye?.warmth ?? 0}
              lifted
              seen="wet"
              onChoose={(level, warmth) => say({ minute, level, warmth })}
            />
          </div>
          <Measured
            lab_of={lab_of}
            words="Look by this reading"
            typed={typed}
            onType={put_typed}
            onLab={(lab) => say({ minute, lab })}
          />
        </div>
      </details>
      <p class="quiet">
        Burning, swelling or hair that stretches and does not spring back: rinse at once, whatever
        the clock says.
      </p>
    </>
  );
}

/** Returns what to do, from the clock and the last look. */
function order_of({ checks_min = [], most_ms }: Running, { looked }: Zone, minute: number) {
  const ends = Math.round((most_ms - now_ms.value) / 60_000);
  if (now_ms.value >= most_ms) {
    return { verb: "Rinse now", why: "The leaflet’s time is over." };
  }
  const asked = lightening.asked.value;
  const reply = looked && asked.state === "answered" ? asked.answer.reply : undefined;
  const left = `The leaflet leaves ${ends} min more.`;
  if (reply && reply.do !== "more_time") return { verb: "Rinse now", why: left };
  const [next] = checks_min;
  if (next === undefined) return { verb: "Rinse in", figure: String(ends), unit: "min", why: left };
  if (next <= minute) return { verb: "Look now", why: left };
  const again = looked ? "Look again at" : "Look at";
  return { verb: again, figure: String(next), why: `It is minute ${minute}. ${left}` };
}

function Answered() {
  const asked = lightening.asked.value;
  if (asked.state === "nothing") return null;
  if (asked.state === "working") {
    return <Working what="Is it light enough…" waiting={waiting_words.value} />;
  }
  if (asked.state === "failed") {
    return <Stopped sentence={asked.sentence} onAgain={() => lightening.again()} />;
  }
  const { reply } = asked.answer;
  return (
    <section class="lighten-answer" aria-label="Light enough" aria-live="polite">
      <p class="lighten-verdict">{VERDICTS[reply.do]}</p>
      <p>{reply.words}</p>
      {reply.deeper_wish && (
        <button type="button" onClick={() => void take_deeper(reply)}>
          Take the deeper wish instead
        </button>
      )}
    </section>
  );
}

const VERDICTS: Record<LighteningReply["do"], string> = {
  rinse: "Light enough",
  more_time: "More time",
  deeper_wish: "A deeper wish",
  stop: "Stop here",
};
