// The matters that the salon's server lists: some this phone knows too, some only the server sees.

import { computed, signal } from "@preact/signals";
import type { Matters } from "../api/shapes";
import { all } from "../records/read";
import { call } from "./call";
import { caller } from "./position";
import { tray } from "./tray";

const ASK_AGAIN_MS = 30_000;

export type Matter = Matters["matters"][number];

const told = signal<readonly Matter[]>([]);

/** The open matters of the server, without those closed here or lying in this phone's tray. */
export const matters_at_the_server = computed(() => {
  const closed = new Set([...all("closing").value, ...tray.value].map(({ id }) => id));
  return told.value.filter(({ id }) => !closed.has(id));
});

/** Asks the server now and every half minute; returns the function that stops it. */
export function follow_matters(): () => void {
  let ended = false;
  const ask = async () => {
    const open = await every_page();
    if (!ended) told.value = open;
  };
  void ask();
  const again = setInterval(() => void ask(), ASK_AGAIN_MS);
  return () => {
    ended = true;
    clearInterval(again);
  };
}

/** Returns whether a phone that holds the record lists the same by itself. */
export function is_of_record({ why, settle }: Matter): boolean {
  return why === "apart" || why === "edited_meanwhile" || settle === "write_or_delete";
}

/** Returns all open matters of the server; none while it is out of reach. */
async function every_page(): Promise<readonly Matter[]> {
  const here = await caller();
  if (!here) return [];
  const found: Matter[] = [];
  let after = "";
  try {
    for (;;) {
      const query = after && `?after=${encodeURIComponent(after)}`;
      const page = await call<Matters>(`/api/matters${query}`, here.pairing);
      found.push(...page.matters);
      if (!page.next) return found;
      after = page.next;
    }
  } catch {
    // This phone lists its own open matters without it.
    return [];
  }
}
