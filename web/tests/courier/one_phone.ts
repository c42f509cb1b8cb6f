// One paired phone for a test of a single file of the courier, with the store it keeps in.
import type { Change, Pushed } from "../../src/api/shapes";
import type { Operation } from "../../src/outbox/operation";
import { open_phone } from "./phones";

/** Opens a paired phone on a new store, with the way into that store. */
export async function paired_phone() {
  const phone = await open_phone();
  await phone.pair();
  const { with_database, write_at_once } = await import("../../src/outbox/database");
  const waiting = () => phone.rows("outbox") as Promise<Operation[]>;
  return {
    ...phone,
    waiting,
    write_at_once,
    /** The device as it is kept: its name, its last number and its clock. */
    device: () => phone.meta("device") as Promise<Device>,
    /** How far it has got with the server. */
    position: async () => (await phone.caller())?.position,
    /** Puts a value of the phone's own under a name. */
    put_meta: (name: string, value: unknown) =>
      with_database((opened) => opened.put("meta", value, name)),
    /** Writes notes, one operation each, and returns what waits then. */
    async notes(count: number): Promise<Operation[]> {
      for (let at = 0; at < count; at += 1) await phone.create("note", { text: `note ${at}` });
      return waiting();
    },
  };
}

interface Device {
  device_id: string;
  device_seq: number;
  clock: { at_ms: number; counter: number };
}

/** Returns an answer to a push, with nothing in it but what is said. */
export function answer(said: Partial<Pushed>): Pushed {
  return {
    ...{ epoch: "e1", accepted: [], duplicate: [], refused: [], clamped: [] },
    ...{ acked_through: 0, safe_seq: 0, clock_offset_ms: 0 },
    ...said,
  } as Pushed;
}

/** Returns a client as the server gives it, its name written at `eff`. */
export function client_named(entity_id: string, name: string, eff: string): Change {
  const by = "00000000-0000-7000-8000-00000000000b";
  const write = { op: `op of ${name}`, eff, by };
  return {
    ...{ entity_id, kind: "client", seq: 1, gone: false },
    fields: { name: { ...write, v: name } },
    created: [write],
  } as Change;
}
