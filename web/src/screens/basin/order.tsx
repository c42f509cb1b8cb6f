// The one order of the basin, with whose head it is and how long the mix has been on.

import { computed } from "@preact/signals";
import { useMemo } from "preact/hooks";
import { countdown } from "../../parts/clock";
import type { Order } from "../../salon/service/order";
import { now_ms, type Running } from "../../salon/service/running";

interface HeadProps {
  client: string;
  /** The clock whose age stands beside the name; without one, `beside` stands there. */
  clock?: Running;
  beside?: string;
}

/** Returns whose head it is, and how long the mix is on. */
export function BasinHead({ client, clock, beside }: HeadProps) {
  const [first, ...rest] = client.split(" ");
  return (
    <div class="basin-head">
      <h1>
        {first}
        {rest.length > 0 && <span class="basin-surname"> {rest.join(" ")}</span>}
        {clock && `, ${clock.zone_name}`}
      </h1>
      {clock ? <Age clock={clock} /> : <span>{beside}</span>}
    </div>
  );
}

/** Apart, so that a second redraws this alone. */
function Age({ clock }: { clock: Running }) {
  const age = useMemo(
    () =>
      computed(() =>
        countdown(Math.max(0, Math.floor((now_ms.value - clock.began_ms) / 1000) * 1000)),
      ),
    [clock],
  ).value;
  return (
    <span>
      <span class="unseen">on for </span>
      {age}
    </span>
  );
}

/** Returns the order, the largest text there is, and why. */
export function BasinOrder({ order }: { order: Order }) {
  const { verb, figure, unit, why } = order;
  const count = [figure, unit].filter(Boolean).join("\u00a0");
  const words = [verb, count].filter(Boolean).join(" ");
  return (
    <div class="basin-said" aria-live="polite">
      <p
        class="basin-order"
        data-long={words.length > 24 ? "very" : words.length > 13 ? "yes" : "no"}
      >
        {words}
      </p>
      <p class="basin-why">{why}</p>
    </div>
  );
}
