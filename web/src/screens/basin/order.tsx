// The one order of the basin, with whose head it is and how long the mix has been on.

import { computed } from "@preact/signals";
import { useMemo } from "preact/hooks";
import { countdown } from "../../parts/clock";
import type { Order } from "../../salon/service/order";
import { now_ms, type Running } from "../../salon/service/running";

interface HeadProps {
  client: string;
  /** Whether other zones of this head are on: large text then keeps the zone, and drops the name. */
  several?: boolean;
  /** The clock whose age stands beside the name; without one, `beside` stands there. */
  clock?: Running;
  beside?: string;
}

/** Returns whose head it is, and how long the mix is on. */
export function BasinHead({ client, several = false, clock, beside }: HeadProps) {
  const [first, ...rest] = client.split(" ");
  return (
    <div class="basin-head">
      <h1>
        <span class={clock && several ? "basin-less" : ""}>
          {first}
          {rest.length > 0 && <span class="basin-surname"> {rest.join(" ")}</span>}
          {clock && <span class="basin-comma">, </span>}
        </span>
        {clock && <span class={several ? "" : "basin-less"}>{clock.zone_name}</span>}
      </h1>
      {clock ? <Age clock={clock} /> : <span class="basin-age">{beside}</span>}
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
    <span class="basin-age">
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
      <p class="basin-order" data-long={long(words.length)}>
        {words}
      </p>
      <p class="basin-why">{why}</p>
    </div>
  );
}

/** How long an order is: a longer one is set smaller. */
function long(letters: number): "no" | "some" | "yes" | "very" {
  if (letters > 24) return "very";
  if (letters > 13) return "yes";
  return letters > 10 ? "some" : "no";
}
