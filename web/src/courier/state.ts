// The state of the sending, in words a colourist can act on.
import { signal } from "@preact/signals";
import { time_of_day } from "../device/when";
import type { Trouble } from "./call";

export interface Sending {
  /** How many entries are on this phone alone. */
  waiting: number;
  /** When something was last sent, ISO; empty before the first time. */
  sent_at: string;
  /** How many older records are still to come. */
  to_come: number;
  clock_offset_ms: number;
  /** What blocks the sending; undefined if nothing does. */
  trouble: Pick<Trouble, "status" | "code" | "message"> | undefined;
  /** Since when the desk does not answer, ISO; empty while it does. */
  lost_since: string;
  /** How many records this phone gave back to a desk that had lost them. */
  handed_back: number;
}

export const sending = signal<Sending>({
  waiting: 0,
  sent_at: "",
  to_come: 0,
  clock_offset_ms: 0,
  trouble: undefined,
  lost_since: "",
  handed_back: 0,
});

// The server marks the times of a clock that is further off than this.
const CLOCK_TOLERANCE_MS = 5 * 60_000;

/** Returns the state of the sending in one line: "12 entries waiting · last sent 14:02". */
export function sending_words({ waiting, sent_at, trouble, to_come }: Sending): string {
  const entries = counted(waiting);
  const last = sent_at ? `last sent ${clock_words(sent_at)}` : "nothing sent yet";
  if (trouble?.status === 401) return `Pair this phone again to send ${entries}.`;
  if (trouble?.code === "device_revoked") {
    return `The salon removed this phone. Pair it again to send ${entries}.`;
  }
  if (trouble?.code === "reads_only") {
    return `This phone may only read. Pair it with another code to send ${entries}.`;
  }
  if (trouble?.code === "schema_ahead")
    return `The desk needs its update. ${entries} waiting here.`;
  if (trouble?.code === "disk_full") return `The desk’s disk is full. ${entries} waiting here.`;
  if (waiting > 0) return `${entries} waiting · ${last}`;
  if (to_come > 0) return `Today is ready. ${to_come} older records to come.`;
  return trouble ? `No contact with the desk · ${last}` : `All sent · ${last}`;
}

/** Returns what the phone's clock does to the times on its notes, or nothing if it is right. */
export function clock_warning({ clock_offset_ms }: Sending): string | undefined {
  const off_ms = Math.abs(clock_offset_ms);
  if (off_ms <= CLOCK_TOLERANCE_MS) return undefined;
  const minutes = Math.round(off_ms / 60_000);
  const hours = Math.floor(minutes / 60);
  const by = hours > 0 ? `${hours} h ${minutes % 60} min` : `${minutes} min`;
  const way = clock_offset_ms < 0 ? "fast" : "slow";
  return `This phone’s clock is ${by} ${way}. Times on its notes are marked. Deadlines stay right.`;
}

/** Returns since when this screen is cut off from the desk; nothing while it is not. */
export function cut_off_words({ lost_since }: Pick<Sending, "lost_since">): string | undefined {
  return lost_since ? `Not connected since ${clock_words(lost_since)}.` : undefined;
}

/** Returns what a restored desk got back from here, or nothing. */
export function handed_back_words({ handed_back }: Sending): string | undefined {
  if (handed_back === 0) return undefined;
  const records = handed_back === 1 ? "1 record" : `${handed_back} records`;
  return `The desk was put back from a backup. ${records} came back to it from this phone.`;
}

function counted(waiting: number): string {
  return waiting === 1 ? "1 entry" : `${waiting} entries`;
}

function clock_words(iso: string): string {
  const at = new Date(iso);
  const time = time_of_day(at.getTime());
  const today = at.toDateString() === new Date().toDateString();
  return today
    ? time
    : `${at.toLocaleDateString([], { day: "numeric", month: "short", year: "numeric" })}, ${time}`;
}
