// The one order of a zone on the head, as the clock goes: a look in doubt puts a question in its
// place until somebody has answered it.
import { computed, type ReadonlySignal } from "@preact/signals";
import { type Order, order_at, type Wall } from "../salon/service/order";
import { now_ms, type Running } from "../salon/service/running";
import { type Doubt, held } from "./held";

/** Returns the order of a zone, which moves only when its words do. */
export function live_order(clock: Running, wall: Wall): ReadonlySignal<Order> {
  let before: Order | undefined;
  return computed(() => {
    const now = order_now(clock, wall);
    if (!before || JSON.stringify(now) !== JSON.stringify(before)) before = now;
    return before;
  });
}

function order_now(clock: Running, wall: Wall): Order {
  const { prediction, doubt } = held(clock.zone);
  // The maker's time is the one thing that no question stands in front of.
  if (doubt && now_ms.value < clock.most_ms) {
    return { verb: question_of_doubt(doubt), why: doubt.words };
  }
  return order_at(clock, now_ms.value, wall, prediction?.saturate);
}

/** Returns what to find out first about a look that hardly any such head could show. */
export function question_of_doubt({ could_be }: Doubt, known: ReadonlySet<string> = new Set()) {
  const open = could_be.find(({ words }) => !known.has(words));
  switch (open?.what) {
    case "product":
      return "Is this the right tube?";
    case "ratio":
      return "Is this the right ratio?";
    case "zone":
      return "Is this the right zone?";
    default:
      return "Is this reading right?";
  }
}
