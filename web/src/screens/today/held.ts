// Why a visit of today is held, in few words: its row reads this, and what asks the rules writes it.
import { signal } from "@preact/signals";

/** The reasons by the service's id; a visit that nothing holds has none. */
export const held_today = signal<ReadonlyMap<string, string>>(new Map());
