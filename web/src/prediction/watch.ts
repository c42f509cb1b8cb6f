// Keeps the prediction of each zone of a service as its looks, its mix and its hair change, and
// lets the record follow: clocks and alarms of every phone read the minutes from there.
import { computed, effect, untracked } from "@preact/signals";
import { Refused } from "../api/client";
import { device } from "../engine/device";
import { one } from "../records/read";
import type { Writing } from "../records/shapes";
import { change } from "../records/write";
import { looks_of, products_of } from "../salon/service/readings";
import { minutes_on, type Zone, zones_of } from "../salon/service/services";
import { held, hold, minute_in, type Prediction, type Settled, tried, try_again } from "./held";
import { settle } from "./settle";

const AGAIN_MS = 10_000;

interface Asked {
  about: string;
  end: AbortController;
  again?: ReturnType<typeof setTimeout>;
}

const asked = new Map<string, Asked>();
const engine = computed(() => device.value.state);

/** Returns the question a zone's prediction answers, as text; undefined where nothing is mixed. */
export function question_of(zone: Zone): string | undefined {
  const { hair, mix, wish, work } = zone;
  if (work === "lightener" || !hair || !mix || !wish) return undefined;
  const looks = looks_of(zone).map(({ minute, where, source, lab, words, trusted }) => [
    ...[minute, where, source, lab ?? words, trusted ?? false],
  ]);
  return JSON.stringify([hair, mix, wish, products_of(zone), looks]);
}

const followed = new Map<string, { by: number; end: () => void }>();

/** Keeps the predictions of a service's zones; returns what ends that. */
export function watch_predictions(service_id: string): () => void {
  return watch_zones(() => zones_of(service_id).map(({ id }) => id));
}

/** Keeps the prediction of each zone that `ids` names as it changes; returns what ends that. */
export function watch_zones(ids: () => readonly string[]): () => void {
  const mine = new Map<string, () => void>();
  const named = computed(() => [...ids()].sort().join());
  const end = effect(() => {
    const now = named.value.split(",").filter(Boolean);
    for (const [id, leave] of mine) {
      if (now.includes(id)) continue;
      leave();
      mine.delete(id);
    }
    for (const id of now) if (!mine.has(id)) mine.set(id, follow_zone(id));
  });
  return () => {
    end();
    for (const leave of mine.values()) leave();
  };
}

/** Follows a zone once, whoever asks for it; returns what lets it go. */
function follow_zone(zone_id: string): () => void {
  const known = followed.get(zone_id);
  if (known) known.by += 1;
  else followed.set(zone_id, { by: 1, end: untracked(() => begin(zone_id)) });
  return () => {
    const now = followed.get(zone_id);
    if (!now) return;
    now.by -= 1;
    if (now.by > 0) return;
    followed.delete(zone_id);
    now.end();
    forget(zone_id);
  };
}

function begin(zone_id: string): () => void {
  globalThis.addEventListener?.("online", try_again);
  const end = effect(() => {
    void tried.value;
    // An engine that has come answers what none could before.
    void engine.value;
    const zone = one("zone", zone_id).value;
    if (zone) consider(zone);
  });
  return () => {
    end();
    globalThis.removeEventListener?.("online", try_again);
  };
}

function forget(zone_id: string): void {
  const before = asked.get(zone_id);
  if (!before) return;
  clearTimeout(before.again);
  before.end.abort();
  asked.delete(zone_id);
}

function consider(zone: Zone): void {
  const about = question_of(zone);
  const before = asked.get(zone.id);
  if (!about) {
    forget(zone.id);
    return;
  }
  if (before?.about === about && !before.again) return;
  forget(zone.id);
  const mine: Asked = { about, end: new AbortController() };
  asked.set(zone.id, mine);
  void work_out(zone, mine);
}

async function work_out(zone: Zone, mine: Asked): Promise<void> {
  const { about, end } = mine;
  // What is held stays in sight until something else is known.
  queueMicrotask(() => {
    if (asked.get(zone.id) === mine) hold(zone.id, { ...worked(zone.id), state: "working" });
  });
  try {
    const settled = await settle(zone, looks_of(zone), about, end.signal);
    if (asked.get(zone.id) !== mine) return;
    await follow(zone.id, settled.prediction);
    if (asked.get(zone.id) === mine) hold(zone.id, { ...settled, state: "settled" });
  } catch (why) {
    if (asked.get(zone.id) !== mine || end.signal.aborted) return;
    const sentence = why instanceof Error ? why.message : String(why);
    hold(zone.id, { ...worked(zone.id), state: "failed", sentence });
    // A question that was refused is refused again.
    if (why instanceof Refused) return;
    mine.again = setTimeout(try_again, AGAIN_MS);
  }
}

function worked(zone_id: string): Partial<Settled> {
  const { prediction, doubt } = held(zone_id);
  return { ...(prediction && { prediction }), ...(doubt && { doubt }) };
}

/** Lets the record follow: the minutes while the mix is on, the dry colour once it is rinsed. */
async function follow(zone_id: string, prediction: Prediction): Promise<void> {
  const zone = one("zone", zone_id).peek();
  if (!zone) return;
  const { window, look_again_min, strip } = prediction;
  const fields: Writing<"zone"> = {};
  if (!zone.rinsed_at) {
    if (!same(zone.window, window)) fields.window = window;
    if (zone.look_again_min !== look_again_min) fields.look_again_min = look_again_min ?? null;
  }
  const at_minute = zone.rinsed_at ? minutes_on(zone) : (zone.mix?.minutes ?? 0);
  const dry = minute_in(strip, at_minute)?.if_rinsed;
  if (dry && (zone.rinsed_at || !zone.predicted) && !same(zone.predicted, dry)) {
    fields.predicted = dry;
  }
  if (Object.keys(fields).length > 0) await change("zone", zone_id, fields, null);
}

function same(one_value: unknown, other: unknown): boolean {
  return JSON.stringify(one_value) === JSON.stringify(other);
}
