// What the looks at a zone say of its head. It is asked for every zone that is on a head, and for
// the one on the bench, whichever screen is open: clocks and alarms go by the window it gives.
import { computed, effect, untracked } from "@preact/signals";
import type { Window } from "../../api/shapes";
import { bench_zone } from "../../bench/bench";
import { judged_hair } from "../../bench/chosen";
import { type OpenQuestion, open_question } from "../../engine/question";
import { device_here, one, state_of } from "../../records/read";
import { change } from "../../records/write";
import { judgement_of, readings_of } from "./readings";
import { running } from "./running";

type Judgement = OpenQuestion<"judgements">;

const judgements = new Map<string, Judgement>();

/** Returns the judgement of a zone's head; silent while there was no look at it. */
export function judgement_at(zone_id: string): Judgement {
  const known = judgements.get(zone_id);
  if (known) return known;
  const judgement = open_question("judgements");
  judgements.set(zone_id, judgement);
  return judgement;
}

/** Asks as looks are taken or taken back, and keeps the window each gives. Runs for good. */
export function watch_judged(): void {
  const followed = new Map<string, () => void>();
  const ids = computed(() => {
    const on_heads = running.value.map(({ zone }) => zone);
    return [...new Set([...on_heads, bench_zone.value])].filter(Boolean).sort().join();
  });
  effect(() => {
    const now = new Set(ids.value.split(",").filter(Boolean));
    for (const [id, end] of followed) {
      if (now.has(id)) continue;
      end();
      followed.delete(id);
    }
    for (const id of now) if (!followed.has(id)) followed.set(id, follow(id));
  });
  effect(() => {
    const zone = bench_zone.value;
    const asked = judgement_at(zone).asked.value;
    if (asked.state === "nothing") judged_hair.value = null;
    if (asked.state === "answered") judged_hair.value = { zone, hair: asked.answer.reply.hair };
  });
}

function follow(zone_id: string): () => void {
  const judgement = judgement_at(zone_id);
  const end_asking = effect(() => {
    const zone = one("zone", zone_id).value;
    const request = zone && judgement_of(zone);
    if (request) judgement.put(request);
    else judgement.drop();
  });
  const end_keeping = effect(() => {
    const asked = judgement.asked.value;
    if (asked.state !== "answered") return;
    const { window } = asked.answer.reply;
    const laid_out = bench_zone.value === zone_id;
    untracked(() => void keep_window(zone_id, window, laid_out));
  });
  return () => {
    end_asking();
    end_keeping();
    judgement.drop();
  };
}

/** Keeps the window of a zone that is on: where its last look was taken, or where it is laid out. */
async function keep_window(zone_id: string, window: Window, laid_out: boolean): Promise<void> {
  const zone = one("zone", zone_id).value;
  if (!zone || zone.rinsed_at || JSON.stringify(zone.window) === JSON.stringify(window)) return;
  if (!laid_out && !is_looked_here(zone_id)) return;
  await change("zone", zone_id, { window }, null);
}

/** Whether the last look at a zone was taken on this phone: a stamp ends with its phone's name. */
function is_looked_here(zone_id: string): boolean {
  const look = readings_of(zone_id).at(-1);
  const stamp = look && state_of(look.id)?.created[0]?.eff;
  return stamp?.endsWith(device_here.value) ?? false;
}
