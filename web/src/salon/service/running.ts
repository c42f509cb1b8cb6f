// The clocks that run: one for each zone whose mix is on. A clock is what the record says (when the
// first and the last section got their mix, and the window), read against the wall clock; nothing
// counts by itself, so a reload, a locked phone or another phone shows the same minute.
import { computed, effect, type ReadonlySignal, signal } from "@preact/signals";
import { look_since_closed, moved_since, note_clock, take_move } from "../../device/clock_moves";
import { MINUTE_MS } from "../../device/when";
import { all, one } from "../../records/read";
import { client_name } from "./client_name";
import { checks_of } from "./lightening";
import { due_next, type OnHead, type Step, within_makers_time } from "./order";

export interface Running extends OnHead {
  zone: string;
  service: string;
  /** Who it is on, and which hair of theirs. */
  client_name: string;
  zone_name: string;
  /** Whether its last section is on: until then its minutes count from the first. */
  is_on: boolean;
  /** How far this phone's clock was moved since the record was written, in milliseconds. */
  moved_ms?: number;
  /** How long after its moments this device rings: the desk waits whether somebody hears. */
  rings_late_ms?: number;
  /** What comes next for it, and when. */
  due: Step;
}

/** The wall clock, in milliseconds: moves each second while a clock runs and the page is seen. */
export const now_ms = signal(Date.now());

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
      const on_head: OnHead = {
        began_ms,
        most_ms,
        window: within_makers_time(zone.window, began_ms, most_ms),
        ...(zone.look_again_min !== undefined && { look_again_min: zone.look_again_min }),
        ...(checks_min && { checks_min }),
      };
      return [
        {
          ...on_head,
          zone: zone.id,
          service: service.id,
          client_name: client_name(service),
          zone_name: zone.name ?? "",
          is_on: zone.last_section_at !== undefined,
          ...(moved_ms !== 0 && { moved_ms }),
          due: due_next(on_head, at_ms),
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
