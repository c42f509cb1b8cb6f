// The shape of an operation: one thing that one person did to one record.

export type Fields = Record<string, unknown>;

export interface Operation {
  op_id: string;
  device_seq: number;
  hlc: string;
  schema: number;
  /** What is done to what: "client.create", "client.set", "client.gone", "safety.clear" … */
  kind: string;
  entity_id: string;
  by: string;
  fields?: Fields;
  /** For each field, the writes its author saw. */
  base?: Record<string, string[]>;
  /** For each safety field, the word its author saw. */
  from?: Record<string, string>;
  /** Of a deletion: every write of the record that the deleter saw. */
  seen?: string[];
  /** Of a lowered caution: what was seen, and why it may fall. */
  saw?: string;
  why?: string;
  /** Of a first answer to a safety question: who asked. */
  asked_by?: string;
  /** Of one that was changed and is sent again: the refused operation it stands for. */
  amends?: string;
  /** Of one that came in from another phone's file: the phone and number it was written under. */
  orig?: { device_id: string; device_seq: number };
}

/** An operation before it has its number and stamp. */
export type Unstamped = Omit<Operation, "op_id" | "device_seq" | "hlc">;

/** The largest operation a server takes, in bytes of JSON. */
export const MOST_OPERATION_BYTES = 64 * 1024;
