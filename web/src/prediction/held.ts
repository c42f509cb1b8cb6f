// One prediction for each zone that has a mix: its strip, its minutes and the head behind them. It
// is kept on this phone, so that a page without an engine still shows the strip it showed last.
import { computed, type ReadonlySignal, signal } from "@preact/signals";
import type { Hair, JudgementReply, StripMinute, Window } from "../api/shapes";
import { keep, recall } from "../device/kept";
import { type Look, looks_of } from "../salon/service/readings";
import type { Zone } from "../salon/service/services";

/** What is foretold of a zone: for its head as described, with the looks that were believed. */
export interface Prediction {
  /** The question it answers, as text, and the looks that were judged for it. */
  about: string;
  judged: readonly string[];
  strip: readonly StripMinute[];
  window: Window;
  /** The minute another look is worth taking at. */
  look_again_min?: number;
  /** Whether the last look was patchy: product is worked in until then. */
  saturate: boolean;
  /** The head as it now seems. */
  hair: Hair;
  /** This head against its description, in words, once it was looked at. */
  this_head?: string;
  advice?: string;
  too_early?: string;
  too_late?: string;
  worked_out: "device" | "server";
  answered_at_ms: number;
}

/** What else would explain a look. */
export type Suspect = NonNullable<JudgementReply["surprise"]>["could_be"][number];

/** A look that hardly any such head could show, until somebody says whether it is right. */
export interface Doubt {
  look: Look;
  words: string;
  could_be: readonly Suspect[];
  /** What would be advised if the look is right. */
  if_true: JudgementReply["advice"]["do"];
  at_minute?: number;
}

/** What was worked out of a zone: nothing follows from a look in doubt. */
export interface Settled {
  prediction: Prediction;
  doubt?: Doubt;
}

export interface Held extends Partial<Settled> {
  /** Whether the prediction answers what is on record now, or is still worked out. */
  state: "nothing" | "working" | "settled" | "failed";
  /** Why there is no answer, and what to do. */
  sentence?: string;
}

const NOTHING: Held = { state: "nothing" };
const MOST_KEPT = 8;

const all_held = signal<Readonly<Record<string, Held>>>({});

/** Returns what is held of a zone; what this phone kept of it while nothing else is there. */
export function held(zone_id: string): Held {
  return all_held.value[zone_id] ?? kept_of(zone_id);
}

/** Returns `held`, which moves only when that zone's does. */
export function held_of(zone_id: string): ReadonlySignal<Held> {
  return computed(() => held(zone_id));
}

/** How often somebody has asked for what had no answer. */
export const tried = signal(0);

/** Asks again at once what had no answer. */
export function try_again(): void {
  tried.value += 1;
}

/** Holds something of a zone in the place of what was held. */
export function hold(zone_id: string, now: Held): void {
  const before = all_held.peek()[zone_id];
  all_held.value = { ...all_held.peek(), [zone_id]: now };
  const { prediction, doubt } = now;
  if (prediction && (prediction !== before?.prediction || doubt !== before.doubt)) {
    keep_on_phone(zone_id, { prediction, ...(doubt && { doubt }) });
  }
}

const read_once = new Map<string, Held>();

function kept_of(zone_id: string): Held {
  const before = read_once.get(zone_id);
  if (before) return before;
  const found = recall<Settled | null>(`prediction.${zone_id}`, null);
  const now: Held = found?.prediction ? { state: "nothing", ...found } : NOTHING;
  read_once.set(zone_id, now);
  return now;
}

/** The latest few zones only: a strip is some 35 KB. */
function keep_on_phone(zone_id: string, settled: Settled): void {
  const before = recall<string[]>("predictions", []).filter((id) => id !== zone_id);
  for (const id of before.slice(0, -MOST_KEPT + 1)) keep(`prediction.${id}`, null);
  keep("predictions", [...before.slice(-MOST_KEPT + 1), zone_id]);
  keep(`prediction.${zone_id}`, settled);
}

/** Returns a strip's minute: the last one where it is over. */
export function minute_in(strip: readonly StripMinute[], minute: number): StripMinute | undefined {
  return strip[Math.min(minute, strip.length - 1)];
}

/** Returns the looks at a zone that were kept and are still to be judged. */
export function to_be_judged(zone: Zone): readonly Look[] {
  const judged = held(zone.id).prediction?.judged ?? [];
  return looks_of(zone).filter(({ id }) => !judged.includes(id));
}
