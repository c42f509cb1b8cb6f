// The shape of an operation: one change that one person made to one record.

export type Fields = Record<string, unknown>;

export interface Operation {
  op_id: string;
  device_seq: number;
  hlc: string;
  schema: number;
  /** The kind and the verb: "client.create", "client.set", "client.gone", "safety.clear" … */
  kind: string;
  entity_id: string;
  by: string;
  fields?: Fields;
  /** For each field, the writes its author saw. */
  base?: Record<string, string[]>;
  /** For each safety field, the word its author saw. */
  from?: Record<string, string>;
  /** For a deletion: every write of the record that the deleter saw. */
  seen?: string[];
  /** For a lowered caution: what was seen, and why it may fall. */
  saw?: string;
  why?: string;
  /** For a first answer to a safety question: who asked. */
  asked_by?: string;
  /** For one that was changed and is sent again: the refused operation it replaces. */
  amends?: string;
  /** For one from another phone's file: the phone and number that wrote it. */
  orig?: { device_id: string; device_seq: number };
}

/** An operation before it has its number and stamp. */
export type Unstamped = Omit<Operation, "op_id" | "device_seq" | "hlc">;

/** The largest operation a server takes, in bytes of JSON. */
export const MOST_OPERATION_BYTES = 64 * 1024;
