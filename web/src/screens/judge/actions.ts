// What is done with a look at a zone: kept, and what it taught of the head kept for the next visit.
import type { Reading } from "../../api/shapes";
import { kept } from "../../device/kept";
import { at_now } from "../../device/when";
import { change, create } from "../../records/write";
import { judgement_at } from "../../salon/service/judged";
import type { Zone } from "../../salon/service/services";

/** The pieces of advice that somebody never wants to see again. */
export const tips_put_away = kept<string[]>("tips_put_away", []);

/** Keeps a look at a zone; the judgement follows from it. */
export async function keep_reading(zone: Zone, reading: Reading): Promise<void> {
  const { minute, where, source, lab, words } = reading;
  const seen = { ...(lab && { lab }), ...(words && { words }) };
  await create("reading", {
    ...{ service: zone.service ?? null, zone: zone.id, at: at_now() },
    ...{ minute, where, source },
    ...seen,
  });
}

/** Keeps what a head did as where its next visit starts from, or takes that away again. */
export async function learn(client: string, zone: Zone): Promise<void> {
  const asked = judgement_at(zone.id).asked.value;
  if (asked.state !== "answered" || !zone.mix) return;
  const { porosity, rate, uptake, sure } = asked.answer.reply.next_visit;
  const learnt = { ...(porosity != null && { porosity }), ...(rate != null && { rate }) };
  await change(
    "client",
    client,
    { learnt: { ...learnt, ...(uptake != null && { uptake }), ...(sure && { sure }) } },
    "Kept what this head did.",
  );
}

/** Lets go of what a client's head once did. */
export async function unlearn(client: string): Promise<void> {
  await change("client", client, { learnt: null }, "Let go of what this head did.");
}
