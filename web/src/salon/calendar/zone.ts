// Finds the instant of a wall clock in a named zone, from the device's own time zones.

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
  let format: Intl.DateTimeFormat;
  try {
    format = new Intl.DateTimeFormat("en-US", {
      timeZone: zone,
      hourCycle: "h23",
      year: "numeric",
      month: "numeric",
      day: "numeric",
      hour: "numeric",
      minute: "numeric",
    });
  } catch {
    return undefined;
  }
  const wall_ms = Date.UTC(year, month - 1, day, hour, minute);
  const offset_at = (at_ms: number) => {
    const parts = format.formatToParts(at_ms);
    const of = (type: string) => Number(parts.find((part) => part.type === type)?.value);
    return Date.UTC(of("year"), of("month") - 1, of("day"), of("hour"), of("minute")) - at_ms;
  };
  // No zone changes its offset twice within two days: the offset applies either before or after.
  const before_ms = wall_ms - offset_at(wall_ms - 86_400_000);
  const after_ms = wall_ms - offset_at(wall_ms + 86_400_000);
  const found = [before_ms, after_ms].filter((at_ms) => at_ms + offset_at(at_ms) === wall_ms);
  return found.length > 0 ? Math.min(...found) : before_ms;
}
