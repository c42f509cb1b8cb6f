// Finds the instant of a wall clock in a named zone, and the other way round, from the device's own
// time zones.

type Wall = readonly [year: number, month: number, day: number, hour: number, minute: number];

/**
 * Returns the instant in ms, or undefined for a zone the device does not know. A time that the
 * clock skips in spring is read by the offset before it (RFC 5545, 3.3.5). Of one that comes twice,
 * the first counts.
 */
export function instant_in(
  zone: string,
  [year, month, day, hour, minute]: Wall,
): number | undefined {
  const format = format_of(zone);
  if (!format) return undefined;
  const wall_ms = Date.UTC(year, month - 1, day, hour, minute);
  const offset_at = (at_ms: number) => read_by(format, at_ms) - at_ms;
  // No zone changes its offset twice within two days: the offset applies either before or after.
  const before_ms = wall_ms - offset_at(wall_ms - 86_400_000);
  const after_ms = wall_ms - offset_at(wall_ms + 86_400_000);
  const found = [before_ms, after_ms].filter((at_ms) => at_ms + offset_at(at_ms) === wall_ms);
  return found.length > 0 ? Math.min(...found) : before_ms;
}

/** Returns how far a zone's clock is ahead of UTC at an instant, in ms; throws for no known zone. */
export function offset_at_ms(zone: string, at_ms: number): number {
  const format = format_of(zone);
  if (!format) throw new RangeError(`The time zone “${zone}” is not known here.`);
  const second_ms = Math.floor(at_ms / 1000) * 1000;
  return read_by(format, second_ms) - second_ms;
}

const formats = new Map<string, Intl.DateTimeFormat>();

/** Returns what reads a zone's clock; undefined for a zone the device does not know. */
function format_of(zone: string): Intl.DateTimeFormat | undefined {
  const known = formats.get(zone);
  if (known) return known;
  try {
    const format = new Intl.DateTimeFormat("en-US", {
      timeZone: zone,
      hourCycle: "h23",
      year: "numeric",
      month: "numeric",
      day: "numeric",
      hour: "numeric",
      minute: "numeric",
      second: "numeric",
    });
    formats.set(zone, format);
    return format;
  } catch {
    return undefined;
  }
}

/** Returns what a zone's clock reads at an instant, as the ms at which UTC reads the same. */
function read_by(format: Intl.DateTimeFormat, at_ms: number): number {
  const parts = format.formatToParts(at_ms);
  const of = (type: string) => Number(parts.find((part) => part.type === type)?.value);
  return Date.UTC(
    ...([of("year"), of("month") - 1, of("day")] as const),
    ...([of("hour"), of("minute"), of("second")] as const),
  );
}
