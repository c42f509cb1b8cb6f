// How far this phone and the server have got, read and changed inside any transaction.
import { with_database } from "../outbox/database";
import type { Pairing, Position } from "../outbox/position";

/** The state a call needs: whose phone it is, and how far it has got. */
export interface Caller {
  pairing: Pairing;
  position: Position;
}

export const POSITION_START: Position = {
  epoch: "",
  cursor: "",
  bookmark: "",
  acked_through: 0,
  covered_through: 0,
  last_seq: 0,
  safe_seq: 0,
  erase_seq: 0,
  sent_at: "",
  clock_offset_ms: 0,
  to_come: 0,
};

interface Readable {
  get(key: string): Promise<unknown>;
}
interface Writable extends Readable {
  put(value: unknown, key: string): Promise<unknown>;
}

/** Returns how far the two sides have got, as this transaction sees it. */
export async function read_position(meta: Readable): Promise<Position> {
  return ((await meta.get("post")) as Position | undefined) ?? POSITION_START;
}

/** Stores these parts in this transaction. */
export async function put_position(meta: Writable, parts: Partial<Position>): Promise<Position> {
  const position = { ...(await read_position(meta)), ...parts };
  await meta.put(position, "post");
  return position;
}

/** Returns this phone's position with its salon, or undefined before it was paired. */
export async function caller(): Promise<Caller | undefined> {
  return with_database(async (opened) => {
    const meta = opened.transaction("meta").store;
    const pairing = (await meta.get("pairing")) as Pairing | undefined;
    const position = await read_position(meta);
    return pairing && { pairing, position };
  });
}

/** Returns how many operations wait to be sent. */
export async function count_waiting(): Promise<number> {
  return with_database((opened) => opened.count("outbox"));
}
