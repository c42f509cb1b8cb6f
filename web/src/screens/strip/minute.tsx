// One minute of the strip in words: the plan, where the minute lies in it, the three colours.
import type { StripMinute, Window } from "../../api/shapes";
import { BigOrder } from "../../parts/big_order";
import { plan_of, stage_at } from "../../parts/strip/window";
import { colour_words } from "../../parts/words";

/** Returns when to rinse, in the biggest words, and how wide the window is. */
export function PlanWords({ window }: { window: Window }) {
  return <BigOrder {...plan_of(window)} />;
}

/** Returns the minute and its colours, in words; what would be had dry stays in sight. */
export function MinuteWords({ at, window }: { at: StripMinute; window: Window }) {
  const stage = stage_at(at.minute, window);
  return (
    <>
      <dl class="reading reading-kept">
        <div>
          <dt>minute</dt>
          <dd>
            <span class="reading-minute">{at.minute}</span>
            {stage && `, ${stage}`}
          </dd>
        </div>
        <div>
          <dt>dry, if rinsed</dt>
          <dd>{colour_words(at.if_rinsed)}</dd>
        </div>
      </dl>
      <dl class="reading">
        <div>
          <dt>on the head</dt>
          <dd>{colour_words(at.on_head)}</dd>
        </div>
        <div>
          <dt>wiped</dt>
          <dd>{colour_words(at.wiped)}</dd>
        </div>
      </dl>
    </>
  );
}
