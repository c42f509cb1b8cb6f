// What all looks at a rinsed zone say of its head, and what is kept of it for the next visit.
import { effect } from "@preact/signals";
import { bench_zone } from "../../bench/bench";
import { judged_hair } from "../../bench/chosen";
import { open_question } from "../../engine/question";
import { held } from "../../prediction/held";
import { one } from "../../records/read";
import { change } from "../../records/write";
import { judgement_of, readings_of } from "../../salon/service/readings";
import type { Zone } from "../../salon/service/services";

export const judgement = open_question("judgements");

/**
 * Keeps asking what all looks at a rinsed zone say of its head, the dried strand with them; returns
 * the end of it. A look in doubt says nothing.
 */
export function watch_judgement(zone_id: string): () => void {
  const end_asking = effect(() => {
    const zone = one("zone", zone_id).value;
    const doubted = held(zone_id).doubt?.look.id;
    const looks = readings_of(zone_id).filter(({ id }) => id !== doubted);
    const asked = zone && judgement_of(zone, looks);
    if (asked) judgement.put(asked);
    else judgement.drop();
  });
  const end_following = effect(() => {
    const asked = judgement.asked.value;
    if (bench_zone.value !== zone_id) return;
    if (asked.state === "nothing") judged_hair.value = null;
    if (asked.state !== "answered") return;
    judged_hair.value = { zone: zone_id, hair: asked.answer.reply.hair };
  });
  return () => {
    end_asking();
    end_following();
  };
}

/** Keeps what a head did as where its next visit starts from, or takes that away again. */
export async function learn(client: string, zone: Zone): Promise<void> {
  const asked = judgement.asked.value;
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
