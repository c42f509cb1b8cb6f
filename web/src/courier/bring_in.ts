// Sends a phone's file whole to the salon's server.

import type { Imported } from "../api/shapes";
import { read_packed } from "../records/files/sealed";
import { send_now } from "./acts";
import { type Asked, reach, Trouble } from "./call";
import { caller } from "./position";

// For a file of 32 MiB over the salon's own network, and one transaction for all of it.
const LONGEST_MS = 5 * 60_000;

/**
 * Returns the result for a file that a phone saved. Throws `BadFile` for a wrong passphrase, and
 * `Trouble` if the server does not answer or refuses the file.
 */
export async function bring_in_at_the_server(file: File, passphrase: string): Promise<Imported> {
  const here = await caller();
  if (!here) throw new Trouble(0, "not_paired", "Pair this browser first.");
  const packed = await read_packed(file, passphrase);
  const asked: Asked = { token: here.pairing.token, packed_file: packed };
  const response = await reach("/api/sync/import", asked, AbortSignal.timeout(LONGEST_MS));
  const came = (await response.json()) as Imported;
  send_now();
  return came;
}
