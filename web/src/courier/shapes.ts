// What travels between this phone and the salon's server, by short names.
import type { Operation } from "../outbox/operation";

/** One write of one field that still stands. */
export interface Standing {
  v?: unknown;
  op: string;
  eff: string;
  by: string;
  clock?: "off";
}

/** A record as it now stands on the server. */
export interface Change {
  entity_id: string;
  kind: string;
  seq: number;
  gone: boolean;
  fields: Record<string, Standing>;
  heads?: Record<string, Standing[]>;
  created?: { op: string; eff: string; by: string }[];
  covered?: Record<string, Record<string, number>>;
}

/** One record that was erased, known by the SHA-256 of its id. */
export interface ErasedEntry {
  n: number;
  id_sha256: string;
  at: string;
  sig: string;
}

export interface Push {
  v: 1;
  device_id: string;
  epoch: string;
  app: string;
  sent_at: string;
  queued: number;
  erase_seq: number;
  ops: readonly Operation[];
}

export interface Receipt {
  op_id: string;
  device_seq: number;
  code: string;
  message: string;
  pointer: string;
  then: string;
}

export interface Pushed {
  epoch: string;
  acked_through: number;
  accepted: { op_id: string; seq: number }[];
  duplicate: { op_id: string; seq: number }[];
  refused: Receipt[];
  clamped: { op_id: string; eff: string }[];
  server_time: string;
  clock_offset_ms: number;
  safe_seq: number;
}

export interface Pulled {
  epoch: string;
  erased: ErasedEntry[];
  changes: Change[];
  next: string;
  more: boolean;
  acked_through: number;
}

export interface SnapshotPage {
  epoch: string;
  erased: ErasedEntry[];
  changes: Change[];
  rank: number;
  cursor: string;
  next: string | null;
  left: number;
  acked_through: number;
}

export interface Paired {
  token: string;
  salon_id: string;
  epoch: string;
  acked_through: number;
}

export interface KnownDevice {
  device_id: string;
  name: string;
  last_seen_at: string | null;
  queued: number;
}
