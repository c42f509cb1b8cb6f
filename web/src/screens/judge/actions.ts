// Asks what the looks at a zone say of this head, and lets strip, window and clocks follow.
import { effect } from "@preact/signals";
import type { Reading } from "../../api/shapes";
import { bench_zone } from "../../bench/bench";
import { judged_hair } from "../../bench/chosen";
import { kept } from "../../device/kept";
import { at_now } from "../../device/when";
import { open_question } from "../../engine/question";
import { one } from "../../records/read";
import { change, create } from "../../records/write";
import { judgement_of } from "../../salon/service/readings";
import type { Zone } from "../../salon/service/services";

export const judgement = open_question("judgements");

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

/** Keeps asking as looks at a zone are taken or taken back; returns the end of it. */
export function watch_judgement(zone_id: string): () => void {
  const end_asking = effect(() => {
    const zone = one("zone", zone_id).value;
    const asked = zone && judgement_of(zone);
    if (asked) judgement.put(asked);
    else judgement.drop();
  });
  const end_following = effect(() => {
    const asked = judgement.asked.value;
    if (bench_zone.value !== zone_id) return;
    if (asked.state === "nothing") judged_hair.value = null;
    if (asked.state !== "answered") return;
    const { hair, window } = asked.answer.reply;
    judged_hair.value = { zone: zone_id, hair };
    const zone = one("zone", zone_id).peek();
    if (!zone || zone.rinsed_at || JSON.stringify(zone.window) === JSON.stringify(window)) return;
    // The clock and its alarm go by the record, so that they hold where this screen is not open.
    void change("zone", zone_id, { window }, null);
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
