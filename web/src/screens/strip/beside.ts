// The strips of the zones that run beside the one that is laid out, each on the hair as the looks
// at it have shown it to be.
import { computed, effect, signal } from "@preact/signals";
import type { Hair, Mix, StripMinute, Window, Wish } from "../../api/shapes";
import { ask } from "../../engine/ask";
import { one } from "../../records/read";
import { judgement_at } from "../../salon/service/judged";
import { judgement_of, products_of } from "../../salon/service/readings";
import { running } from "../../salon/service/running";
import type { Zone } from "../../salon/service/services";

interface Worked {
  minutes: readonly StripMinute[];
  window: Window;
}

/** The strips by zone; a zone whose strip is still worked out, or cannot be, has none. */
export const beside = signal<Readonly<Record<string, Worked>>>({});

interface Asked {
  about: string;
  end: AbortController;
}

/** Keeps asking while zones go on, are looked at and are rinsed; returns the end of it. */
export function watch_beside(service_id: string, zone_id: string): () => void {
  const asked = new Map<string, Asked>();
  const ids = computed(() =>
    running.value
      .filter(
        ({ service, zone, checks_min }) =>
          service === service_id && zone !== zone_id && !checks_min,
      )
      .map(({ zone }) => zone)
      .sort()
      .join(),
  );
  const end_asking = effect(() => {
    const zones = ids.value.split(",").flatMap((id) => one("zone", id).value ?? []);
    for (const [id, { end }] of asked) {
      if (zones.some((zone) => zone.id === id)) continue;
      end.abort();
      asked.delete(id);
      put(id, undefined);
    }
    for (const zone of zones) begin(zone);
  });

  function begin(zone: Zone): void {
    const { id, mix, hair, wish } = zone;
    if (!mix || !hair || !wish) return;
    const judged = hair_of_judged(zone);
    const about = JSON.stringify([mix, wish, judged ?? hair]);
    if (asked.get(id)?.about === about) return;
    asked.get(id)?.end.abort();
    const end = new AbortController();
    asked.set(id, { about, end });
    put(id, undefined);
    if (judged === "not yet known") return;
    work_out(zone, { hair: judged ?? hair, mix, wish }, end.signal)
      // The zone itself, once it is laid out, says what is wrong.
      .then((worked) => put(id, worked))
      .catch(() => undefined);
  }

  return () => {
    end_asking();
    for (const { end } of asked.values()) end.abort();
    beside.value = {};
  };
}

/** Returns the hair as looks have shown it; undefined where nobody has looked. */
function hair_of_judged(zone: Zone): Hair | undefined | "not yet known" {
  if (!judgement_of(zone)) return undefined;
  const { asked } = judgement_at(zone.id);
  return asked.value.state === "answered" ? asked.value.answer.reply.hair : "not yet known";
}

async function work_out(
  zone: Zone,
  about: { hair: Hair; mix: Mix; wish: Wish },
  end: AbortSignal,
): Promise<Worked> {
  const products = products_of({ ...zone, hair: about.hair });
  const { reply } = await ask("predictions", { ...about, products }, { signal: end });
  return { minutes: reply.strip, window: reply.window };
}

function put(id: string, worked: Worked | undefined): void {
  const { [id]: _, ...others } = beside.peek();
  beside.value = worked ? { ...others, [id]: worked } : others;
}
