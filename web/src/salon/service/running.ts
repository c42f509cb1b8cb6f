// The clocks that run: one for each zone whose mix is on. A clock is what the record says (when the
// first and the last section got their mix, and the window), read against the wall clock; nothing
// counts by itself, so a reload, a locked phone or another phone shows the same minute.
import { computed, effect, type ReadonlySignal, signal } from "@preact/signals";
import type { Window } from "../../api/shapes";
import { look_since_closed, moved_since, note_clock, take_move } from "../../device/clock_moves";
import { MINUTE_MS } from "../../device/when";
import { all, one } from "../../records/read";
import { checks_of } from "./lightening";

export interface Running {
  zone: string;
  service: string;
  /** Who it is on, and which hair of theirs. */
  client_name: string;
  zone_name: string;
  /**
   * When the minutes of the strip began, by this phone's clock as it is now: the last section on, or
   * the first while that is not.
   */
  began_ms: number;
  /** The end of the maker's time, counted from the first section. */
  most_ms: number;
  window: Window;
  /** Under a lightener: the minutes to look at, from the last look on. */
  checks_min?: readonly number[];
  /** How long after its moments this device rings: the desk waits whether somebody hears. */
  rings_late_ms?: number;
  /** What comes next for it, and when. */
  due: Due;
}

interface Due {
  words: string;
  at_ms: number;
  /** Whether this is the last thing that comes: after it the zone is only late. */
  last: boolean;
}

/** The wall clock, in milliseconds: moves each second while a clock runs and the page is seen. */
export const now_ms = signal(Date.now());

/** Returns what comes next for a zone whose minutes began at `began_ms`. */
export function due_next(
  began_ms: number,
  most_ms: number,
  window: Window,
  at_ms: number,
  checks_min?: readonly number[],
): Due {
  const at = (minute: number) => Math.min(began_ms + minute * MINUTE_MS, most_ms);
  const steps: Due[] = checks_min
    ? [
        ...checks_min.map((minute) => ({
          words: `look at ${minute}`,
          at_ms: at(minute),
          last: false,
        })),
        { words: "rinse by", at_ms: most_ms, last: true },
      ]
    : "reason" in window
      ? [{ words: "dry a strand, then rinse by", at_ms: most_ms, last: true }]
      : [
          { words: `rinse from ${window.earliest}`, at_ms: at(window.earliest), last: false },
          { words: `best at ${window.best}`, at_ms: at(window.best), last: false },
          { words: `rinse by ${window.latest}`, at_ms: at(window.latest), last: true },
        ];
  return steps.find((step) => step.at_ms > at_ms) ?? (steps.at(-1) as Due);
}

let before: readonly Running[] = [];

/**
 * The clocks that run, what is due first on top. Moves when one begins, ends or comes to its next
 * step, and not with the seconds: what shows them would be drawn anew each time.
 */
export const running = computed<readonly Running[]>(() => {
  const now = clocks_at(now_ms.value);
  if (JSON.stringify(now) !== JSON.stringify(before)) before = now;
  return before;
});

function clocks_at(at_ms: number): Running[] {
  return all("zone")
    .value.filter(({ first_section_at, rinsed_at }) => first_section_at && !rinsed_at)
    .flatMap((zone) => {
      const service = one("service", zone.service ?? "").value;
      if (!service || service.state === "cancelled" || !zone.window) return [];
      const moved_ms = moved_since(zone.id);
      const first_ms = Date.parse(zone.first_section_at as string) + moved_ms;
      const checks_min = checks_of(zone);
      // A lightener works from the first section on, and its leaflet counts from there.
      const from_last = zone.last_section_at && !checks_min;
      const began_ms = from_last ? Date.parse(zone.last_section_at as string) + moved_ms : first_ms;
      const most_ms = first_ms + (zone.most_minutes ?? 0) * MINUTE_MS;
      return [
        {
          zone: zone.id,
          service: service.id,
          client_name: one("client", service.client ?? "").value?.name ?? "",
          zone_name: zone.name ?? "",
          began_ms,
          most_ms,
          window: zone.window,
          ...(checks_min && { checks_min }),
          due: due_next(began_ms, most_ms, zone.window, at_ms, checks_min),
        },
      ];
    })
    .sort((a, b) => a.due.at_ms - b.due.at_ms || a.zone.localeCompare(b.zone));
}

/** Whether a clock runs: what must not be interrupted asks this. */
export const clock_runs = computed(() => running.value.length > 0);

/** Returns the whole minutes since the mix was on; below 0 is 0. */
export function minute_of({ began_ms }: Pick<Running, "began_ms">, at_ms: number): number {
  return Math.max(0, Math.floor((at_ms - began_ms) / MINUTE_MS));
}

/** Returns the minute of a clock, which moves once a minute. */
export function minutes_of(clock: Running): ReadonlySignal<number> {
  return computed(() => minute_of(clock, now_ms.value));
}

/** Moves `now_ms` each second while a clock runs and the page can be seen. Runs for good. */
export function watch_clock(): void {
  let beat: ReturnType<typeof setTimeout> | undefined;
  let before = { wall_ms: Date.now(), passed_ms: performance.now() };
  let was_seen = !document.hidden;
  let opened = false;
  const zones = () => running.peek().map(({ zone }) => zone);
  const look = () => {
    const now = { wall_ms: Date.now(), passed_ms: performance.now() };
    const by_ms = now.wall_ms - before.wall_ms - (now.passed_ms - before.passed_ms);
    take_move(by_ms, zones(), was_seen);
    before = now;
    if (zones().length > 0) note_clock(now.wall_ms);
    now_ms.value = now.wall_ms;
  };
  const move = () => {
    look();
    // On the second, so that two clocks change together and the page is painted once.
    beat = setTimeout(move, 1000 - (Date.now() % 1000));
  };
  const seen = signal(!document.hidden);
  document.addEventListener("visibilitychange", () => {
    look();
    was_seen = !document.hidden;
    seen.value = !document.hidden;
  });
  effect(() => {
    clearTimeout(beat);
    if (!clock_runs.value || !seen.value) return;
    if (!opened) look_since_closed(zones());
    opened = true;
    before = { wall_ms: Date.now(), passed_ms: performance.now() };
    move();
  });
}
