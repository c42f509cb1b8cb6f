// The strip of the chosen mix: the order in large words, the lanes under it, the recipe below.

import { fault_at } from "../../engine/faults";
import { strip, what_ifs } from "../../engine/lines";
import { CautionLine } from "../../parts/caution";
import { Stopped, Working } from "../../parts/notice";
import { Strip, type StripOf } from "../../parts/strip";
import { flush_sentence } from "../../parts/strip/flush";
import { order_at, window_words } from "../../parts/strip/window";
import { colour_words } from "../../parts/words";
import { chosen_formula } from "../../records/chosen";
import { what_ifs_shown } from "../../records/entries";
import { look_at, minute_shown, WHAT_IF_ORDER, WHAT_IFS, type WhatIf } from "./actions";
import { Recipe } from "./recipe";
import "./style.css";
import { WhatIfs } from "./what_ifs";

/** Returns the section "On the head", open. */
export function OnTheHead() {
  const asked = strip.asked.value;
  const formula = chosen_formula.value;
  if (asked.state === "working") return <Working what="Working out the strip, minute by minute…" />;
  if (asked.state === "failed") {
    return <Stopped sentence={asked.sentence} onAgain={() => strip.again()} />;
  }
  if (asked.state === "nothing" || !formula) {
    return <p class="quiet">The strip shows here once there is something to mix.</p>;
  }
  const { strip: minutes, window } = asked.answer.reply;
  const at = minutes.find(({ minute }) => minute === minute_shown.value);
  if (!at) return null;
  const order = order_at(at.minute, window);
  const flush = flush_sentence(minutes);
  return (
    <>
      <div class="order">
        <p class="order-words">
          {order.verb}
          {order.figure && (
            <>
              {" "}
              <span class="order-figure">{order.figure}</span> {order.unit}
            </>
          )}
        </p>
        <p>{order.why}</p>
      </div>
      <div class="surround strip-ground">
        <Strip
          strips={[{ name: "this hair", minutes, window }, ...others()]}
          minute={at.minute}
          onMinute={look_at}
        />
        <dl class="reading">
          <div>
            <dt>minute</dt>
            <dd class="reading-minute">{at.minute}</dd>
          </div>
          <div>
            <dt>on the head</dt>
            <dd>{colour_words(at.on_head)}</dd>
          </div>
          <div>
            <dt>wiped</dt>
            <dd>{colour_words(at.wiped)}</dd>
          </div>
          <div>
            <dt>dry, if rinsed</dt>
            <dd>{colour_words(at.if_rinsed)}</dd>
          </div>
        </dl>
      </div>
      {flush && <p class="flush">{flush}</p>}
      <p class="quiet">
        The slivers at each lane’s sides are its cooler and its warmer edge: 8 heads in 10 lie
        between. Window: {window_words(window)}.
      </p>
      {fault_at("/minutes") && <p class="fault">{fault_at("/minutes")}</p>}
      <WhatIfs minute={at.minute} />
      <Recipe mix={formula.mix} />
      <CautionLine />
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
