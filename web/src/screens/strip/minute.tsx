// One minute of the strip in words: the order, and the three colours.
import type { StripMinute, Window } from "../../api/shapes";
import { BigOrder } from "../../parts/big_order";
import { order_at } from "../../parts/strip/window";
import { colour_words } from "../../parts/words";

interface OrderWordsProps {
  minute: number;
  window: Window;
}

/** Returns the order at a minute, the biggest words there are, and why. */
export function OrderWords({ minute, window }: OrderWordsProps) {
  return <BigOrder {...order_at(minute, window)} />;
}

/** Returns the minute and its colours, in words. */
export function MinuteWords({ at }: { at: StripMinute }) {
  return (
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
  );
}
