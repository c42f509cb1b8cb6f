// The safety of a service on its page.
import { gate_of } from "../../gate/state";
import { later } from "../../parts/later";
import { is_rinsed } from "../../salon/service/mixed";
import type { Service } from "../../salon/service/services";

export const Safety = later(() => import("../../screens/safety").then((screen) => screen.Safety));

/** Returns how the safety of a service stands, in a line. */
export function safety_line(service: string): string {
  if (is_rinsed(service)) return "rinsed, answers on record";
  const { reply, is_current, sentence } = gate_of(service);
  if (sentence) return "held: no answer yet";
  if (!reply || !is_current) return "being looked at";
  if (reply.rinse_now) return "rinse now";
  return reply.may_start ? "nothing holds" : "held";
}

/** What is said wherever grams are hidden because something holds the service. */
export const GRAMS_WAIT = "Grams show once nothing holds this service.";

/** Returns what stands in the place of the grams. */
export function Withheld({ service }: { service: Service }) {
  return (
    <>
      <p>{GRAMS_WAIT}</p>
      <Safety service={service} />
    </>
  );
}
