// The records as screens read and write them. What a field may hold is the contract's, written to
// types.generated.ts; which field merges how is in fields.generated.json.
import type { Kind, Write } from "./fold";
import type { RecordFields } from "./types.generated";

/** A moment as RFC 3339 with offset, or in UTC. */
export type Moment = string;
/** The id of another record. */
type Id = string;

export type {
  Bowl,
  FrozenAnswer,
  FrozenDecision,
  FrozenTest,
  KeptAnswer as Answer,
  Leaflet,
  LightenerSaid,
  Looked,
} from "./types.generated";

/** The fields of each kind; every one may be missing. `null` in a write takes a value away. */
export type Records = RecordFields;
export type ReadingWords = NonNullable<Records["reading"]["words"]>;

/** The content of a write: any of the kind's fields, or `null` to take one away. */
export type Writing<K extends Kind> = { [F in keyof Records[K]]?: Records[K][F] | null };

interface Of<K extends Kind> {
  readonly id: Id;
  readonly kind: K;
  readonly created_at: Moment;
  /** Who made it. */
  readonly by: Id;
  /** The values of every field that somebody should look at, since two people wrote it apart. */
  readonly heads?: Readonly<Record<string, readonly Write[]>>;
  /** The writes of every field that are not of its type: they are kept, and do not show. */
  readonly unread?: Readonly<Record<string, readonly Write[]>>;
  /** True while its creation has not come yet. */
  readonly incomplete?: true;
  /** True if someone deleted it who had not seen the latest write. */
  readonly edited_meanwhile?: true;
}

/** A record as it is now. */
export type Entity<K extends Kind = Kind> = Of<K> &
  Readonly<Omit<Records[K], keyof Of<K>>> &
  ByOf<K>;
// A closing, a decision, a step and a reaction name who did or saw them; every other `by` wrote it
// down.
type ByOf<K extends Kind> = K extends "closing" | "decision" | "step" | "reaction"
  ? { readonly by: string }
  : unknown;

export type { Kind };
