// A phone's file, sent whole to the salon's server.

import type { Imported } from "../api/shapes";
import { read_packed } from "../records/files/sealed";
import { type Asked, reach, Trouble } from "./call";
import { caller } from "./position";
import { now_please } from "./run";

// A file of 32 MiB over the salon's own network, and one transaction for all that is in it.
const LONGEST_MS = 5 * 60_000;

/**
 * Returns what came of a file that a phone saved. Throws `BadFile` where its passphrase is another,
 * and `Trouble` where the server does not answer or takes nothing of it.
 */
export async function bring_in_at_the_server(file: File, passphrase: string): Promise<Imported> {
  const here = await caller();
  if (!here) throw new Trouble(0, "not_paired", "Pair this browser first.");
  const packed = await read_packed(file, passphrase);
  const asked: Asked = { token: here.pairing.token, packed_file: packed };
  const response = await reach("/api/sync/import", asked, AbortSignal.timeout(LONGEST_MS));
  const came = (await response.json()) as Imported;
  now_please();
  return came;
}
