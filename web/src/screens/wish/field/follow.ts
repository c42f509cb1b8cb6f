// The ring: where the wish is, or where a finger or a key has it just now. The entries follow once
// it rests, so that nothing is asked about every place it passes.
import { batch, computed, signal } from "@preact/signals";
import { wish_entry } from "../../../bench/entries";
import { change, tone_refused } from "../actions";
import {
  FIELDS,
  type FieldName,
  field_of,
  type Spot,
  stop_of,
  type Tones,
  tones_at,
} from "./places";

export const REST_MS = 150;

interface Moving {
  spot: Spot;
  tones: Tones;
}

const moving = signal<Moving | null>(null);
let rest: ReturnType<typeof setTimeout> | undefined;

export const followed = {
  /** The field that was chosen to look at; null for the one that the wish is on. */
  field: signal<FieldName | null>(null),
  /** How often the reaches were asked for again by hand. */
  again: signal(0),
} as const;

/** The ring's place on the field that is shown; null while the wish is on another, or on none. */
export const ring = computed<Spot | null>(() => {
  if (moving.value) return moving.value.spot;
  const { level, tone } = wish_entry.value;
  const stop = stop_of(FIELDS[followed.field.value ?? field_of(tone)], tone);
  return stop === undefined ? null : { level, stop };
});

/** Whether the ring has moved on from what was last asked. */
export const is_moving = computed(() => moving.value !== null);

/** Moves the ring; the wish follows once it rests. */
export function follow(spot: Spot, tones: Tones): void {
  clearTimeout(rest);
  rest = setTimeout(settle, REST_MS);
  const now = moving.peek()?.spot;
  if (now?.level === spot.level && now.stop === spot.stop) return;
  moving.value = { spot, tones };
}

/** Lets the wish follow at once. */
export function settle(): void {
  clearTimeout(rest);
  const now = moving.peek();
  if (!now) return;
  batch(() => {
    tone_refused.value = null;
    change({ by_reading: false, level: now.spot.level, tone: tones_at(now.tones, now.spot.stop) });
    moving.value = null;
  });
}
