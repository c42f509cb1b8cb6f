// All running clocks on one line of the bar, which opens to a row a clock.
import { useState } from "preact/hooks";
import { ClockLine, countdown } from "./index";
import "./bar.css";

export interface BarClock {
  zone: string;
  /** Whose hair, and which part of it. */
  name: string;
  zone_name: string;
  due: { words: string; at_ms: number };
  href: string;
}

interface ClockBarProps {
  /** What is due first comes first. */
  clocks: readonly BarClock[];
  now_ms: number;
}

/** Returns one clock as its line; several as one line that says what is next, and opens upwards. */
export function ClockBar({ clocks, now_ms }: ClockBarProps) {
  const [open, put_open] = useState(false);
  const [first] = clocks;
  if (!first) return null;
  const line = ({ zone, name, due, href }: BarClock, is_first: boolean) => (
    <ClockLine
      key={zone}
      name={name}
      words={due.words}
      at_ms={due.at_ms}
      now_ms={now_ms}
      href={href}
      first={is_first}
    />
  );
  if (clocks.length === 1) return line(first, true);
  const next = `${first.zone_name || first.name}, ${countdown(first.due.at_ms - now_ms)}`;
  return (
    <>
      {open && (
        <div class="clock-bar-rows">{clocks.map((clock, place) => line(clock, place === 0))}</div>
      )}
      <button type="button" class="clock-bar" aria-expanded={open} onClick={() => put_open(!open)}>
        <strong>{clocks.length} clocks</strong>
        <span class="clock-bar-next">next: {next}</span>
        <span aria-hidden="true">{open ? "▾" : "▴"}</span>
      </button>
    </>
  );
}
