// What is compared of a zone: colours, and windows inside the maker's time.
import type { Expected } from "./expected";

/** The largest difference of two colours, on any axis. */
export function far(
  shown: readonly number[] | undefined,
  must: readonly number[] | undefined,
): number {
  if (!shown || !must) return Number.POSITIVE_INFINITY;
  return Math.max(...shown.map((value, axis) => Math.abs(value - (must[axis] ?? Number.NaN))));
}

/** A window ends where the maker's time does. */
export function cut(window: Expected["window"], most: number): Expected["window"] {
  if ("reason" in window) return window;
  const { earliest, best, latest } = window;
  return {
    earliest: Math.min(earliest, most),
    best: Math.min(best, most),
    latest: Math.min(latest, most),
  };
}
