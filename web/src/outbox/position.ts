// What this phone knows of its sending: whose it is, how far it got, and what came back.
import type { Operation } from "./operation";

/** What a phone holds once it is one of a salon's. */
export interface Pairing {
  token: string;
  salon_id: string;
  device_id: string;
  name: string;
  paired_at: string;
}

/** How far the two sides have got with each other; one row, kept as "post". */
export interface Position {
  /** Which history of the server this is about. */
  epoch: string;
  /** The place in the server's log up to which `base` holds everything; empty before the first. */
  cursor: string;
  /** Where the first fetch goes on, while it is cut into pages. */
  bookmark: string;
  /** This phone's last number that the server has settled. */
  acked_through: number;
  /** This phone's last number from which on back the server's records hold what was sent. */
  covered_through: number;
  /** The server's number up to which a verified backup of it holds everything. */
  safe_seq: number;
  /** The server's greatest number of what was sent; absent where that is not known. */
  last_seq?: number | undefined;
  /** The last erasure that has been carried out here. */
  erase_seq: number;
  /** When the last answer to something sent came, ISO; empty before the first. */
  sent_at: string;
  /** The server's clock less this phone's, when something was last sent. */
  clock_offset_ms: number;
  /** How many records are still to come of the first fetch. */
  to_come: number;
  /** Records of clients who are to be erased: they are here, and no screen shows them. */
  hidden?: readonly string[];
}

/** An operation the server has taken, its number there, and the stamp that counts if not its own. */
export interface Sent {
  op: Operation;
  seq: number;
  eff?: string;
  sent_at: string;
}

/** An operation that will not be taken as it is; without its text where that was erased. */
export interface InTray {
  op?: Operation;
  code: string;
  message: string;
  pointer: string;
  /** What can be done: "edit", "ask_desk", "update_app" or "nothing". */
  way_on: string;
  refused_at: string;
}

/** Returns the number in a place of the server's log: "e7.55040.1f0c3a9e" is 55040. */
export function seq_of(cursor: string): number {
  return Number(cursor.split(".")[1] ?? 0);
}
