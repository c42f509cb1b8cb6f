// The desk's server finds what this device does not hold: older records, and those of others.

import type { Searched } from "../api/shapes";
import { call } from "./call";
import { caller } from "./position";

export type FoundAtServer = Searched["found"][number];

/** Returns what the salon's server finds, or nothing where there is none, or none within reach. */
export async function found_at_the_server(typed: string, most: number): Promise<FoundAtServer[]> {
  const here = await caller();
  if (!here || !typed.trim()) return [];
  const query = new URLSearchParams({ q: typed, limit: `${most}` });
  try {
    const { found } = await call<Searched>(`/api/search?${query}`, here.pairing);
    return found;
  } catch {
    // What this device holds is found without it.
    return [];
  }
}
