// Reads a day from another program's file: a calendar (RFC 5545) or a table (RFC 4180). A line that
// cannot be read is reported, never guessed, and costs only itself.

import { BadCalendar, type ReadDays, type Span } from "./days";

const MOST_BYTES = 8 * 1024 * 1024;

/** Returns the appointments of a file within a span; throws BadCalendar if it is none. */
export async function read_days(file: Blob, span: Span): Promise<ReadDays> {
  if (file.size > MOST_BYTES) {
    const mb = Math.ceil(file.size / 1024 / 1024);
    throw new BadCalendar(
      `This file has ${mb} MB; the most is 8 MB. Save a shorter time from your calendar.`,
    );
  }
  const text = decoded(new Uint8Array(await file.arrayBuffer()));
  if (text.trim() === "") throw new BadCalendar("This file is empty. Save it again.");
  // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what tells it from text
  if (/\u0000/.test(text)) {
    throw new BadCalendar(
      "This file is not text. Choose one that ends in .ics or .csv, as a calendar saves it.",
    );
  }
  const days = /^\s*BEGIN:VCALENDAR/i.test(text)
    ? (await import("./ics")).read_ics(text, span)
    : (await import("./table")).read_table(text, span);
  days.appointments.sort((a, b) => a.at_ms - b.at_ms || a.line - b.line);
  days.left_out.sort((a, b) => a.line - b.line);
  return days;
}

/**
 * Returns the text: UTF-8 as RFC 5545 (3.1.4) has it. Spreadsheets also write UTF-16, which its first
 * two bytes tell (Unicode, 23.8), and old ones Windows-1252.
 */
function decoded(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (first === 0xfe && second === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}
