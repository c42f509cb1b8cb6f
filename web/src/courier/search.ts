// Finds on the desk's server what this device does not hold: older records, and those of others.

import type { Searched } from "../api/shapes";
import { call } from "./call";
import { caller } from "./position";

export type FoundAtServer = Searched["found"][number];

/** Returns the server's matches, or none without a server in reach. */
export async function found_at_the_server(typed: string, most: number): Promise<FoundAtServer[]> {
  const here = await caller();
  if (!here || !typed.trim()) return [];
  const query = new URLSearchParams({ q: typed, limit: `${most}` });
  try {
    const { found } = await call<Searched>(`/api/search?${query}`, here.pairing);
    return found;
  } catch {
    // Matches on this device are found without it.
    return [];
  }
}
