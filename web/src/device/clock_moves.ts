// Notes when a phone's clock was moved while zones run. A zone's times stay as they were written.
// This file keeps how far the clock has moved since, on this phone alone. So the zone goes on by
// the time that really passed, after a reload too.
//
// A clock that goes back was moved: nothing else does that. A clock that jumps ahead may mean a
// device that slept, and then the time really passed. So nothing changes until a person says that
// the clock was moved: minutes counted short leave a product on too long.
import { computed, type ReadonlySignal } from "@preact/signals";
import { keep, kept, recall } from "./kept";

const NOTICED_MS = 2000;
const LIKE_MS = 5000;
const MOST_KEPT = 20;
const SEEN = "clock_seen";

export interface Move {
  /** The phone's clock at the time, after the move. */
  at_ms: number;
  /** How far it moved; below zero is back. */
  by_ms: number;
  /** The zones that ran. */
  zones: string[];
  /** Whether those zones leave it out of their minutes. */
  counts: boolean;
  /** Whether a person has read about it. */
  read: boolean;
  /** Whether it moved while the page was closed: by at least this much. */
  closed?: boolean;
}

const moves = kept<Move[]>("clock_moves", []);

/** The latest move that nobody has read about. */
export const move_to_say: ReadonlySignal<Move | undefined> = computed(() =>
  moves.value.findLast(({ read }) => !read),
);

/** Returns how far the clock has moved since a zone's times were written, in milliseconds. */
export function moved_since(zone: string): number {
  return moves.value
    .filter(({ zones, counts }) => counts && zones.includes(zone))
    .reduce((sum, { by_ms }) => sum + by_ms, 0);
}

/** Returns now by the clock that wrote a zone's times. */
export function zone_now_ms(zone: string): number {
  return Date.now() - moved_since(zone);
}

/**
 * Notes that the clock differs by `by_ms` from the time that passed, while these zones run. `seen`
 * says whether the page was in sight meanwhile: out of sight only a clock set back is sure.
 */
export function take_move(by_ms: number, zones: string[], seen: boolean, at_ms = Date.now()): void {
  if (Math.abs(by_ms) < NOTICED_MS || zones.length === 0) return;
  if (by_ms > 0 && !seen) return;
  const open = moves.peek().findLast(({ counts, read }) => !counts && !read);
  // Moved ahead and back again: as if nothing had happened.
  if (open && by_ms < 0 && Math.abs(open.by_ms + by_ms) < LIKE_MS) {
    moves.value = moves.peek().filter((other) => other !== open);
    return;
  }
  const move = { at_ms, by_ms, zones, counts: by_ms < 0, read: false };
  moves.value = [...moves.peek(), move].slice(-MOST_KEPT);
}

/** Notes that a person has read about a move, and whether the clock moved or the phone slept. */
export function settle_move(move: Move, counts: boolean): void {
  moves.value = moves
    .peek()
    .map((other) => (other === move ? { ...move, counts, read: true } : other));
}

/** Remembers that the clock has shown this time, while zones run. */
export function note_clock(at_ms = Date.now()): void {
  keep(SEEN, at_ms);
}

/**
 * Notes, when the page opens on running zones, a clock that is behind its last time. Nobody knows
 * how much further it was set back: the zones are at least as old as they were then.
 */
export function look_since_closed(zones: string[], at_ms = Date.now()): void {
  const by_ms = at_ms - recall(SEEN, 0);
  if (by_ms > -NOTICED_MS || zones.length === 0) return;
  const move = { at_ms, by_ms, zones, counts: true, read: false, closed: true };
  moves.value = [...moves.peek(), move].slice(-MOST_KEPT);
  note_clock(at_ms);
}

/** Returns a move in words. */
export function move_words({ by_ms, counts, closed }: Move): string {
  const by = span_words(Math.abs(by_ms));
  if (closed) {
    return `This phone’s clock was set back, by ${by} or more, while Basinside was closed. Running zones are at least as far as shown. Look at the hair, and rinse if in doubt.`;
  }
  if (by_ms < 0) {
    return `This phone’s clock was set back by ${by}. Running zones keep the minutes that really passed. The times of day beside them follow the new clock.`;
  }
  if (counts) return `This phone’s clock was moved ahead by ${by}. The zones leave that out.`;
  return `This phone’s clock jumped ahead by ${by} while a zone runs. If the phone slept, the minutes are right. If somebody moved its clock, the zones are that much younger.`;
}

function span_words(ms: number): string {
  const minutes = Math.round(ms / 60_000);
  if (minutes === 0) return `${Math.round(ms / 1000)} s`;
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  return [hours && `${hours} h`, rest && `${rest} min`].filter(Boolean).join(" ");
}
