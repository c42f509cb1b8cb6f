// The strip of the chosen mix as a plan: when to rinse, what to weigh, minute by minute.

import type { ComponentChildren } from "preact";
import type { StripMinute, Window } from "../../api/shapes";
import { mix_in_hand } from "../../bench/chosen";
import { what_ifs_shown } from "../../bench/entries";
import { no_mix } from "../../bench/no_mix";
import { WHAT_IF_ORDER, WHAT_IFS, type WhatIf } from "../../bench/what_ifs";
import { fault_at } from "../../engine/faults";
import { strip, what_ifs } from "../../engine/questions";
import { waiting_words, worked_out_words } from "../../engine/where";
import { CautionLine } from "../../parts/caution";
import "../../parts/choice/style.css";
import { Stopped, Working } from "../../parts/notice";
import { Strip, type StripOf } from "../../parts/strip";
import { flush_sentence } from "../../parts/strip/flush";
import { window_words } from "../../parts/strip/window";
import { look_at, minute_shown } from "./actions";
import { MinuteWords, PlanWords } from "./minute";
import { Recipe } from "./recipe";
import "./style.css";
import { WhatIfs } from "./what_ifs";

/** Returns the section "On the head", open, of a mix that is tried out; `start` is the way on. */
export function OnTheHead({ start }: { start: ComponentChildren }) {
  const mix = mix_in_hand.value;
  return (
    <StripAnswer>
      {(minutes, window) => {
        const at = minutes.find(({ minute }) => minute === minute_shown.value);
        if (!at || !mix) return null;
        return (
          <>
            <PlanWords window={window} />
            <div class="plan-bowl">
              <Recipe mix={mix} short />
              {start}
            </div>
            <div class="surround strip-ground">
              <Strip
                strips={[{ name: "this hair", minutes, window }, ...others()]}
                minute={at.minute}
                onMinute={look_at}
              />
              <MinuteWords at={at} window={window} />
            </div>
            <StripNotes minutes={minutes} window={window} />
            <WhatIfs minute={at.minute} />
            <CautionLine />
          </>
        );
      }}
    </StripAnswer>
  );
}

/** Returns what is made of the strip, or in words why there is none. */
export function StripAnswer({
  children,
}: {
  children: (minutes: readonly StripMinute[], window: Window) => ComponentChildren;
}) {
  const asked = strip.asked.value;
  if (asked.state === "working") {
    return (
      <Working what="Working out the strip, minute by minute…" waiting={waiting_words.value} />
    );
  }
  if (asked.state === "failed") {
    return <Stopped sentence={asked.sentence} onAgain={() => strip.again()} />;
  }
  if (asked.state === "nothing") {
    const first = !mix_in_hand.value && no_mix.value;
    if (first) return <p>{first.main}: there is no strip without a mix.</p>;
    return <p class="quiet">The strip shows here once there is something to mix.</p>;
  }
  const { strip: minutes, window } = asked.answer.reply;
  return (
    <>
      {children(minutes, window)}
      <p class="quiet">{worked_out_words(asked.answer)}</p>
    </>
  );
}

/** Returns what to know when looking at the strip: the flush, the slivers, the window in words. */
export function StripNotes({
  minutes,
  window,
}: {
  minutes: readonly StripMinute[];
  window: Window;
}) {
  const flush = flush_sentence(minutes);
  return (
    <>
      {flush && <p class="flush">{flush}</p>}
      <p class="quiet">
        The slivers at each lane’s sides are its cooler and its warmer edge: 8 heads in 10 lie
        between. Window: {window_words(window)}.
      </p>
      {fault_at("/minutes") && <p class="fault">{fault_at("/minutes")}</p>}
    </>
  );
}

function others(): StripOf[] {
  return WHAT_IF_ORDER.filter((name: WhatIf) => what_ifs_shown.value.includes(name)).flatMap(
    (name) => {
      const asked = what_ifs[name].asked.value;
      if (asked.state !== "answered") return [];
      const { strip: minutes, window } = asked.answer.reply;
      return [{ name: WHAT_IFS[name].name, minutes, window }];
    },
  );
}
