// What the salon's server says needs a look: what this phone knows of too, and what only it sees.

import type { Matters } from "../api/shapes";
import { call } from "./call";
import { standing } from "./post";

export type Matter = Matters["matters"][number];

/** Returns what is open at the server, the first page of it; nothing where it is out of reach. */
export async function matters_at_the_server(): Promise<readonly Matter[]> {
  const here = await standing();
  if (!here) return [];
  try {
    return (await call<Matters>("/api/matters", here.pairing)).matters;
  } catch {
    // What is open on this phone is listed without it.
    return [];
  }
}
