// The result of reading another program's file, in any form.

/** One appointment: its title, when, and where in the file it is. */
export interface Appointment {
  /** The same each time the same appointment is read, so that it is never taken twice. */
  key: string;
  /** Its title as the file has it: a client's name, often with more. */
  name: string;
  at_ms: number;
  line: number;
}

/** A line that was not understood or is skipped, and where. */
export interface LeftOut {
  line: number;
  words: string;
}

export interface ReadDays {
  /** By time. */
  appointments: Appointment[];
  left_out: LeftOut[];
  /** How many sound appointments are of other days than those asked for. */
  outside: number;
}

/** The instants to look between; a repeated appointment has no end of its own. */
export interface Span {
  from_ms: number;
  until_ms: number;
}

/** Thrown if nothing in a file can be used; says where it is wrong and what to do. */
export class BadCalendar extends Error {}

/** How the id of a rinse begins in a file of ours: it is no appointment to take in. */
export const RINSE_UID = "rinse.";
