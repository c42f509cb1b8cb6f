// How far this phone's sending has got: whose phone it is, what it sent, and what came back.
import type { Operation } from "./operation";

/** The pairing of a phone with its salon. */
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
  /** Where the first fetch goes on, while it comes in pages. */
  bookmark: string;
  /** This phone's last number that the server has settled. */
  acked_through: number;
  /** The server's records hold this phone's operations up to this number of its own. */
  covered_through: number;
  /** The server's number up to which a verified backup of it holds everything. */
  safe_seq: number;
  /** The server's greatest number of a sent operation; absent if unknown. */
  last_seq?: number | undefined;
  /** The last erasure that this phone has carried out. */
  erase_seq: number;
  /** When the last answer to a send came, ISO; empty before the first. */
  sent_at: string;
  /** The server's clock less this phone's, at the last send. */
  clock_offset_ms: number;
  /** How many records of the first fetch are still to come. */
  to_come: number;
  /** Records of clients who are to be erased: they are here, and no screen shows them. */
  hidden?: readonly string[];
}

/** An operation the server has taken, its number there, and its stamp there if that differs. */
export interface Sent {
  op: Operation;
  seq: number;
  eff?: string;
  sent_at: string;
}

/** A refused operation; without its text if that was erased. */
export interface InTray {
  op?: Operation;
  code: string;
  message: string;
  pointer: string;
  /** What to do: "edit", "ask_desk", "update_app" or "nothing". */
  way_on: string;
  refused_at: string;
}

/** Returns the number in a place of the server's log: "e7.55040.1f0c3a9e.5a1b8e02c7d94f36" is 55040. */
export function seq_of(cursor: string): number {
  return Number(cursor.split(".")[1] ?? 0);
}
