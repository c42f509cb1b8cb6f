// Times on records: RFC 3339 with this phone's offset, so that the wall clock of then stays
// readable.

export const MINUTE_MS = 60_000;

const two = (value: number) => String(value).padStart(2, "0");

/** Returns an instant as RFC 3339 with this phone's offset at that instant, to the second. */
export function rfc3339(at_ms: number): string {
  const at = new Date(at_ms);
  const east_min = -at.getTimezoneOffset();
  const day = [at.getFullYear(), two(at.getMonth() + 1), two(at.getDate())].join("-");
  const time = [at.getHours(), at.getMinutes(), at.getSeconds()].map(two).join(":");
  const sign = east_min < 0 ? "-" : "+";
  const offset = `${two(Math.floor(Math.abs(east_min) / 60))}:${two(Math.abs(east_min) % 60)}`;
  return `${day}T${time}${sign}${offset}`;
}

/** Returns now as records write it. */
export function at_now(): string {
  return rfc3339(Date.now());
}

/** Returns the day of a time in words, with its year: "Sat 28 Nov 2026". For what is history. */
export function date_words(time: string): string {
  return new Date(time).toLocaleDateString([], {
    weekday: "short",
    day: "numeric",
    month: "short",
    year: "numeric",
  });
}

/** Returns the day of a time in words: "Sat 28 Nov". */
export function day_words(time: string): string {
  return new Date(time).toLocaleDateString([], {
    weekday: "short",
    day: "numeric",
    month: "short",
  });
}
