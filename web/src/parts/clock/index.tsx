// One running clock on one line: who, what comes next, how long until then, and at what time.
import { time_from } from "../words";
import "./style.css";

interface ClockLineProps {
  name: string;
  words: string;
  /** When it comes, and now: wall clock, in milliseconds. */
  at_ms: number;
  now_ms: number;
  href?: string;
  first: boolean;
}

/** Returns a span of time as a countdown: "6:12", "1:05:00"; past time has a plus. */
export function countdown(left_ms: number): string {
  const seconds = Math.ceil(Math.abs(left_ms) / 1000);
  const two = (value: number) => String(value).padStart(2, "0");
  const hours = Math.floor(seconds / 3600);
  const minutes = Math.floor((seconds % 3600) / 60);
  const text = hours
    ? `${hours}:${two(minutes)}:${two(seconds % 60)}`
    : `${minutes}:${two(seconds % 60)}`;
  return left_ms < 0 ? `+${text}` : text;
}

/** Returns the line; the one that is due first is the darkest. */
export function ClockLine({ name, words, at_ms, now_ms, href, first }: ClockLineProps) {
  const left_ms = at_ms - now_ms;
  const inside = (
    <>
      <strong class="clock-name">{name}</strong>
      <span class="clock-words">{left_ms < 0 ? "rinse now" : words}</span>
      <span class="clock-time">
        <strong>{countdown(left_ms)}</strong> · {time_from(at_ms, now_ms)}
      </span>
    </>
  );
  const kind = `clock-line${first ? " clock-first" : ""}`;
  return href ? (
    <a class={kind} href={href}>
      {inside}
    </a>
  ) : (
    <div class={kind}>{inside}</div>
  );
}

interface ClockOf {
  zone: string;
  zone_name: string;
  due: { words: string; at_ms: number };
}

/** Returns the clocks of a service, the first due on top. */
export function ClockLines({ clocks, now_ms }: { clocks: readonly ClockOf[]; now_ms: number }) {
  return (
    <div>
      {clocks.map(({ zone, zone_name, due }, place) => (
        <ClockLine
          key={zone}
          name={zone_name}
          words={due.words}
          at_ms={due.at_ms}
          now_ms={now_ms}
          first={place === 0}
        />
      ))}
    </div>
  );
}
