// A clock that never goes back, for stamps that sort as text in the order things were written.
//
// It follows the wall clock where that moves on, and only counts where it stands or is set back.
//   wall ahead of the last stamp   → the wall's time, counter 0
//   wall the same or behind        → the last time, counter + 1
//   counter full                   → the last time + 1 ms, counter 0
// A stamp from elsewhere moves it forward too, so that what is written after reading it sorts
// after it. Hybrid logical clocks: Kulkarni et al., OPODIS 2014, LNCS 8878.

export interface Clock {
  readonly at_ms: number;
  readonly counter: number;
}

export const CLOCK_START: Clock = { at_ms: 0, counter: 0 };

const MOST_COUNTED = 0xffff;
// The last instant whose year has four digits: a longer one would no longer sort as text.
const LATEST_MS = Date.UTC(9999, 11, 31, 23, 59, 59, 999);
const STAMP = /^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)-([0-9a-f]{4})-([0-9a-f-]{36})$/;

/** Returns the clock after one more write at the wall's time (ms since 1970, UTC). */
export function tick(last: Clock, wall_ms: number): Clock {
  const wall = Math.min(Math.max(0, Math.floor(wall_ms)), LATEST_MS);
  if (wall > last.at_ms) return { at_ms: wall, counter: 0 };
  if (last.counter < MOST_COUNTED) return { at_ms: last.at_ms, counter: last.counter + 1 };
  return { at_ms: last.at_ms + 1, counter: 0 };
}

/** Returns the clock after a stamp from elsewhere was seen: the later of the two. */
export function seen(last: Clock, stamp: string): Clock {
  const { at_ms, counter } = read_stamp(stamp);
  const later = at_ms > last.at_ms || (at_ms === last.at_ms && counter > last.counter);
  return later ? { at_ms, counter } : last;
}

/** Returns the stamp as text of fixed width: "2026-11-25T10:15:03.120Z-0004-<device>". */
export function stamp_text({ at_ms, counter }: Clock, device_id: string): string {
  return `${new Date(at_ms).toISOString()}-${counter.toString(16).padStart(4, "0")}-${device_id}`;
}

/** Returns what a stamp says; throws a RangeError where the text is not one. */
export function read_stamp(stamp: string): Clock & { device_id: string } {
  const [, time = "", counter = "", device_id = ""] = STAMP.exec(stamp) ?? [];
  const at_ms = Date.parse(time);
  if (Number.isNaN(at_ms)) {
    throw new RangeError(`A stamp is a time, a counter and a device; this is "${stamp}".`);
  }
  return { at_ms, counter: Number.parseInt(counter, 16), device_id };
}

/** Returns the time a stamp was made at, as RFC 3339 in UTC. */
export function stamp_time(stamp: string): string {
  return stamp.slice(0, 24);
}
