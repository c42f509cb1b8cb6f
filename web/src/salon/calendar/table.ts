// Reads appointments from a table: a column of names, one of times and, if there is one, of dates.
// The cells tell which column is which; a heading decides only which one holds the names.
import Papa from "papaparse";
import { type Appointment, BadCalendar, type LeftOut, type ReadDays, type Span } from "./days";

interface Row {
  line: number;
  cells: string[];
}
interface Day {
  year: number;
  month: number;
  day: number;
}
type Order = "day first" | "month first" | "unknown";

const TIME = /^(\d{1,2})(?:[:.h](\d{2})(?::\d{2})?)?\s*([ap])?\.?m?\.?$/i;
const ISO = /^(\d{4})-(\d{2})-(\d{2})(?:[T ](.+))?$/;
const DAY = /^(\d{1,2})([./-])(\d{1,2})[./-](\d{4})(?:,? (.+))?$/;
const NAMES = /\b(names?|clients?|customers?|guests?|subject|summary|who|title)\b/i;

/** Returns the appointments of a table within a span; without dates they are of its first day. */
export function read_table(text: string, span: Span): ReadDays {
  const left_out: LeftOut[] = [];
  const [head, ...rows] = rows_of(text, left_out);
  if (!head || rows.length === 0) {
    throw new BadCalendar(
      "Line 1 should name the columns, such as name and time. Appointments follow, one a line. There are none.",
    );
  }
  const column = (fits: (cell: string) => boolean) =>
    head.cells.findIndex((_, at) => {
      const full = rows.map(({ cells }) => (cells[at] ?? "").trim()).filter(Boolean);
      return full.length > 0 && full.filter(fits).length * 2 > full.length;
    });
  const date_at = column((cell) => ISO.test(cell) || DAY.test(cell));
  const time_at = column((cell) => is_time(cell));
  const named = head.cells.findIndex((cell) => NAMES.test(cell));
  const name_at = named >= 0 ? named : column((cell) => /^\p{L}/u.test(cell) && !is_time(cell));
  if (name_at < 0) throw new BadCalendar(`${NO_COLUMN("names")} Call it “name”.`);
  if (time_at < 0 && date_at < 0) throw new BadCalendar(`${NO_COLUMN("times")} Write 14:30.`);

  const order = order_of(rows.map(({ cells }) => cells[date_at] ?? ""));
  const appointments: Appointment[] = [];
  let outside = 0;
  for (const { line, cells } of rows) {
    const name = (cells[name_at] ?? "").trim();
    const at = at_of(cells[date_at], cells[time_at], order, span.from_ms);
    if (!name) left_out.push({ line, words: "no name" });
    else if (typeof at === "string") left_out.push({ line, words: `“${name}”: ${at}` });
    else if (at >= span.from_ms && at < span.until_ms) {
      appointments.push({ key: `${name} ${at}`, name, at_ms: at, line });
    } else outside += 1;
  }
  return { appointments, left_out, outside };
}

const NO_COLUMN = (what: string) => `No column of ${what} was found under the headings of line 1.`;

/**
 * Returns the rows with their lines. A quote that never closes would swallow the rest of the file:
 * its line is left out, and reading goes on after it.
 */
function rows_of(text: string, left_out: LeftOut[]): Row[] {
  const rows: Row[] = [];
  const delimiter = delimiter_of(text);
  let [begin, first] = [0, 1];
  while (begin < text.length) {
    const part = text.slice(begin);
    let [from, line, open_line] = [0, first, 0];
    Papa.parse<string[]>(part, {
      delimiter,
      step({ data, errors, meta }, parser) {
        const rows_read = part.slice(from, meta.cursor).trimEnd();
        const open = errors.some(({ code }) => code === "MissingQuotes");
        // The next quote of another row closes it, in the wrong place.
        const closed_late = errors.length > 0 && /[\r\n]/.test(rows_read);
        if (open || closed_late) {
          open_line = line;
          parser.abort();
          return;
        }
        if (data.some((cell) => cell.trim())) rows.push({ line, cells: data });
        line += part.slice(from, meta.cursor).split(/\r\n|\n|\r/).length - 1;
        from = meta.cursor;
      },
    });
    if (open_line === 0) break;
    left_out.push({ line: open_line, words: "opens a quote that is never closed" });
    const [ending] = /\r\n|\n|\r/.exec(part.slice(from)) ?? [];
    const ends = ending ? part.indexOf(ending, from) + ending.length : part.length;
    [begin, first] = [begin + ends, open_line + 1];
  }
  return rows;
}

/** The headings tell it: the parser's own guess asks for more columns than a short table has. */
function delimiter_of(text: string): string {
  const [headings = ""] = text.trimStart().split(/[\r\n]/, 1);
  const count = (mark: string) => headings.split(mark).length;
  return [",", ";", "\t"].reduce((most, mark) => (count(mark) > count(most) ? mark : most));
}

function is_time(cell: string): boolean {
  return minutes_of(cell) !== undefined && !/^\d+$/.test(cell);
}

/** Returns the minutes since midnight, or undefined for text that is no time of day. */
function minutes_of(cell: string): number | undefined {
  const [, hour = "", minute = "0", half] = TIME.exec(cell.trim()) ?? [];
  let hours = Number(hour);
  if (hour === "" || Number(minute) > 59 || hours > 23) return undefined;
  if (half) {
    if (hours < 1 || hours > 12) return undefined;
    hours = (hours % 12) + (half.toLowerCase() === "p" ? 12 : 0);
  }
  return hours * 60 + Number(minute);
}

/** Whether the day or the month comes first: the first number that can be no month tells. */
function order_of(cells: readonly string[]): Order {
  for (const cell of cells) {
    const [, first = "", , second = ""] = DAY.exec(cell.trim()) ?? [];
    if (Number(first) > 12) return "day first";
    if (Number(second) > 12) return "month first";
  }
  return "unknown";
}

/** Returns the instant in ms, or the missing part in words. */
function at_of(
  date: string | undefined,
  time: string | undefined,
  order: Order,
  today_ms: number,
): number | string {
  const read = date === undefined ? { day: day_of(today_ms) } : read_day(date.trim(), order);
  if (typeof read === "string") return read;
  const clock = (time || read.rest || "").trim();
  if (!clock) return "no time";
  if (/(?:Z|[+-]\d{2}:?\d{2})$/.test(clock) && date && ISO.test(date)) {
    const at_ms = Date.parse(date.trim());
    return Number.isNaN(at_ms) ? `“${date}” is no time` : at_ms;
  }
  const minutes = minutes_of(clock);
  if (minutes === undefined) return `“${clock}” is no time of day; write 14:30`;
  const { year, month, day } = read.day;
  return new Date(year, month - 1, day, 0, minutes).getTime();
}

function read_day(text: string, order: Order): { day: Day; rest?: string } | string {
  if (!text) return "no date";
  const iso = ISO.exec(text);
  if (iso) {
    const [year, month, day] = iso.slice(1, 4).map(Number) as [number, number, number];
    return checked({ year, month, day }, text, iso[4]);
  }
  const [, first = "", mark, second = "", year, rest] = DAY.exec(text) ?? [];
  if (!year) return `“${text}” is no date; write 2026-11-28`;
  // With dots the day comes first everywhere that dots are used: common practice.
  const by = mark === "." ? "day first" : order;
  if (by === "unknown" && first !== second) {
    return `“${text}” may be read with the day or the month first; write 2026-11-28`;
  }
  const [day, month] = by === "month first" ? [second, first] : [first, second];
  return checked({ year: Number(year), month: Number(month), day: Number(day) }, text, rest);
}

function checked(day: Day, text: string, rest?: string): { day: Day; rest?: string } | string {
  const date = new Date(day.year, day.month - 1, day.day);
  const sound = date.getMonth() === day.month - 1 && date.getDate() === day.day;
  if (!sound) return `“${text}” is no day; write 2026-11-28`;
  return rest === undefined ? { day } : { day, rest };
}

function day_of(at_ms: number): Day {
  const at = new Date(at_ms);
  return { year: at.getFullYear(), month: at.getMonth() + 1, day: at.getDate() };
}
