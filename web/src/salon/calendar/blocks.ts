// Splits a calendar (RFC 5545) into its events and zones, each with the line it begins on. A part
// that is cut, or ends without a beginning, is named with its line; the others stay whole.
import { BadCalendar, type LeftOut } from "./days";

/** One event, as the file has it, from its first line to its last. */
export interface Block {
  line: number;
  text: string;
}

export interface Blocks {
  events: Block[];
  /** The time zones that the file describes, as text. */
  zones: string;
  left_out: LeftOut[];
}

const EDGE = /^(BEGIN|END):([\w-]+)\s*$/i;
const CALENDAR = "VCALENDAR";

/** Returns the parts of a calendar; throws BadCalendar where a cut file holds no whole event. */
export function blocks_of(text: string): Blocks {
  const lines = text.split(/\r\n|\n|\r/);
  const found: Blocks = { events: [], zones: "", left_out: [] };
  const open: { name: string; line: number }[] = [];
  let block: string[] = [];
  const cut = (part: { name: string; line: number } | undefined) => {
    if (!part) return;
    const words = `what begins here (${part.name}) does not end: the file is cut`;
    found.left_out.push({ line: part.line, words });
  };
  const close_to = (depth: number) => {
    // Of nested parts that are cut, the outer one says it.
    const [outer] = open.splice(depth);
    cut(outer);
  };
  for (const [at, line] of lines.entries()) {
    const [, what = "", named = ""] = EDGE.exec(line) ?? [];
    const name = named.toUpperCase();
    if (what.toUpperCase() === "BEGIN") {
      // No event is inside another: the one before was cut.
      if (name === "VEVENT" && open.length > 1) close_to(1);
      open.push({ name, line: at + 1 });
      if (open.length === 2) block = [];
    }
    if (open.length > 1) block.push(line);
    if (what.toUpperCase() !== "END") continue;
    const depth = open.findLastIndex((part) => part.name === name);
    if (depth < 0) {
      found.left_out.push({ line: at + 1, words: `ends a part (${name}) that never began` });
      continue;
    }
    if (depth < open.length - 1) close_to(Math.max(depth, name === CALENDAR ? 1 : depth));
    const opened = depth < open.length ? open.pop() : undefined;
    if (!opened || open.length !== 1) continue;
    const whole = `${block.join("\r\n")}\r\n`;
    if (opened.name === "VEVENT") found.events.push({ line: opened.line, text: whole });
    if (opened.name === "VTIMEZONE") found.zones += whole;
  }
  if (open.length > 1) close_to(1);
  if (open.length > 0) cut(open[0]);
  const [fault] = found.left_out;
  if (fault && found.events.length === 0) {
    throw new BadCalendar(`Line ${fault.line}: ${fault.words}. Save the calendar again.`);
  }
  return found;
}
