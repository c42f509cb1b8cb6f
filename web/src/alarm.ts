// Rings at the moments of the running clocks: on the screen, by sound and by vibration. If the page
// is out of sight and may notify, a notification rings too. Each is tried, none relied on.
import { computed, effect, signal } from "@preact/signals";
import { kept } from "./device/kept";
import { clock_began, keep_only, leave, notify } from "./device/notifications";
import { address_of } from "./place";
import { is_paired, one } from "./records/read";
import { keep_heard, keys_heard } from "./salon/service/heard";
import { in_hands } from "./salon/service/in_hands";
import { type Moment, moments_due, next_moment_ms } from "./salon/service/moments";
import { clock_runs, now_ms, type Running, running } from "./salon/service/running";
import { wide } from "./wide";

/** What was heard on this phone. It is silent at once, also where the record cannot be written. */
const heard_here = kept<string[]>("heard", []);
const MOST_REMEMBERED = 60;
const EVERY_MS = 2500;
// setTimeout counts in 32 bits.
const LONGEST_WAIT_MS = 2 ** 31 - 1;

const at_ms = signal(Date.now());

/** The desk rings for a chair that nobody heard for this long. */
export const DESK_RINGS_AFTER_MS = 60_000;

/** How late a service's clock rings here, in milliseconds; undefined where it does not ring. */
function late_by_ms(service: string): number | undefined {
  const found = one("service", service).value;
  if (!is_paired.value || !found || in_hands(found).mine) return 0;
  return wide.value ? DESK_RINGS_AFTER_MS : undefined;
}

/** The running clocks that ring here, each as late as it does. */
const clocks_here = computed<readonly Running[]>(() =>
  running.value.flatMap((clock) => {
    const late_ms = late_by_ms(clock.service);
    if (late_ms === undefined) return [];
    return [{ ...clock, rings_late_ms: late_ms }];
  }),
);

/** What was heard, here or on another phone. */
const heard = computed<readonly string[]>(() => [
  ...heard_here.value,
  ...keys_heard(clocks_here.value.map(({ zone }) => zone)),
]);

/** What rings now: the latest moment of each zone that was not heard yet. */
export const ringing = computed<readonly Moment[]>(() =>
  moments_due(clocks_here.value, heard.value, Math.max(at_ms.value, now_ms.value)),
);

/** Says that moments were heard: they ring no more, here at once and soon on every other phone. */
export function hear(moments: readonly Moment[]): void {
  const keys = moments.map(({ key }) => key);
  const others = heard_here.value.filter((other) => !keys.includes(other));
  heard_here.value = [...others, ...keys].slice(-MOST_REMEMBERED);
  // Where the store does not take it, the page says so; this phone stays silent all the same.
  keep_heard(moments).catch(() => undefined);
}

let sound: AudioContext | undefined;

/** Makes sound possible as a clock begins; browsers allow that only during a tap. */
export function allow_alarms(): void {
  clock_began();
  try {
    sound ??= new AudioContext();
    void sound.resume();
  } catch {
    sound = undefined;
  }
}

type Awake = "on" | "off" | "refused" | "missing";
/** Whether the screen is kept on while a clock runs. */
const awake = signal<Awake>("off");

/** Rings, and keeps the screen on while a clock runs. For good. */
export function watch_alarms(): void {
  let wait: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    clearTimeout(wait);
    const next = next_moment_ms(clocks_here.value, at_ms.value);
    if (next === undefined) return;
    // A late timer does no harm: the clock decides what is due, not the timer.
    wait = setTimeout(
      () => {
        at_ms.value = Date.now();
      },
      Math.min(LONGEST_WAIT_MS, Math.max(0, next - Date.now())),
    );
  });
  document.addEventListener("visibilitychange", () => {
    at_ms.value = Date.now();
  });

  let again: ReturnType<typeof setInterval> | undefined;
  const notified = new Set<string>();
  effect(() => {
    clearInterval(again);
    const [first] = ringing.value;
    if (!first) return;
    const ring = () => {
      beep(first.last);
      navigator.vibrate?.(first.last ? [400, 150, 400, 150, 400] : [300]);
    };
    ring();
    again = setInterval(ring, EVERY_MS);
  });
  effect(() => {
    const moments = ringing.value;
    for (const { key, words, service } of document.hidden ? moments : []) {
      if (notified.has(key)) continue;
      notified.add(key);
      notify({ key, words, address: address_of("service", service) });
    }
    keep_only(moments.map(({ key }) => key));
  });
  watch_screen();
}

/** Two notes for a look, four for a rinse: you can tell them apart without looking. */
function beep(last: boolean): void {
  if (sound?.state !== "running") return;
  for (let count = 0; count < (last ? 4 : 2); count += 1) {
    const begin = sound.currentTime + count * 0.3;
    const tone = sound.createOscillator();
    const volume = sound.createGain();
    tone.frequency.value = count % 2 ? 1320 : 990;
    volume.gain.setValueAtTime(0.4, begin);
    volume.gain.exponentialRampToValueAtTime(0.01, begin + 0.22);
    tone.connect(volume).connect(sound.destination);
    tone.start(begin);
    tone.stop(begin + 0.25);
  }
}

function watch_screen(): void {
  let lock: WakeLockSentinel | undefined;
  const hold = async () => {
    if (!("wakeLock" in navigator)) {
      awake.value = "missing";
      return;
    }
    if (document.hidden || !clock_runs.value || lock) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      awake.value = "on";
      lock.addEventListener("release", () => {
        lock = undefined;
        awake.value = "off";
      });
    } catch {
      awake.value = "refused";
    }
  };
  effect(() => {
    if (clock_runs.value) void hold();
    else void lock?.release();
  });
  document.addEventListener("visibilitychange", () => void hold());
}

/** Returns in words what this phone does for a running clock, and what it does not. */
export function alarm_words(): string {
  const screen = {
    on: "The screen stays on while a clock runs.",
    off: "The screen stays on once a clock runs.",
    refused: "This phone does not keep the screen on, perhaps to save its battery.",
    missing: "This browser cannot keep the screen on.",
  }[awake.value];
  const elsewhere =
    leave.value === "granted" ? " A notification rings while you use another app." : "";
  return `${screen} It rings and vibrates while Basinside is on the screen.${elsewhere} A locked or silent phone may stay quiet, so keep a kitchen timer too. The minute is right whenever you look.`;
}
