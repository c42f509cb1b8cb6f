// The records as screens read and write them. fields.generated.json says how each field merges. A
// field that is missing here or there does not compile.
import type { Colour, Hair, Mix, Product, ProductClass, Window, Wish } from "../api/shapes";
import type { Entered } from "./entered";
import type table from "./fields.generated.json";
import type { Kind, Write } from "./fold";

/** A moment as RFC 3339 with offset, or in UTC. */
export type Moment = string;
/** The id of another record. */
type Id = string;
type Lab = [number, number, number];

type Purpose = "client" | "test_dab" | "strand" | "swatch" | "training_head";
type ServiceState = "planned" | "started" | "ended" | "cancelled";
export type ReadingWords =
  | "as_shown"
  | "pinker"
  | "yellower"
  | "greener"
  | "more_violet"
  | "greyer"
  | "darker"
  | "lighter"
  | "patchy";

export interface Answer {
  value: unknown;
  at: Moment;
  by: string;
}

export interface Leaflet {
  min_hours?: number;
  max_hours?: number;
  site?: string;
  method?: string;
  max_minutes?: number;
  heat_allowed?: boolean;
  contains?: string[];
  [more: string]: unknown;
}

/** A lightener by its leaflet. Until `max_min` is known, it cannot go on. */
export interface LightenerSaid {
  kind: "powder" | "cream";
  /** At most 12, in percent. */
  developer_percent: number;
  check_every_min: number;
  max_min?: number;
  /** Grams of developer per gram of lightener. */
  mix_ratio: number;
  grams: number;
}

/** The level of a wiped strand under a lightener at a minute: from the chart, or measured wet. */
export type Looked = { minute: number } & ({ level: number; warmth: number } | { lab: Lab });

/** An answer as it stood when a visit began: what was asked, what was said, when and to whom. */
export interface FrozenAnswer {
  fact: string;
  asked?: string;
  value: unknown;
  words?: string;
  at?: Moment;
  by?: string;
}

export interface FrozenTest {
  line?: string;
  applied_at?: Moment;
  site?: string;
  applied_by?: string;
  result?: string;
  read_at?: Moment;
  read_by?: string;
  from_paper?: boolean;
}

export interface FrozenDecision {
  rule?: string;
  basis?: string;
  saw?: string;
  why?: string;
  by?: string;
  role?: string;
  at?: Moment;
}

/** What was weighed, by the names on the tubes. */
export interface Bowl {
  parts: { product: Id; line?: string; name: string; grams: number; batch?: string }[];
  developer?: { percent: number; grams: number };
}

interface Corrects {
  /** The record of the same kind that this one corrects. */
  corrects?: Id;
}

/** The fields of each kind; every one may be missing. `null` in a write takes a value away. */
export interface Records {
  client: {
    name?: string;
    phone?: string;
    /** "YYYY" or "YYYY-MM-DD". */
    born?: string;
    hair?: Omit<Hair, "reading" | "also">;
    learnt?: { porosity?: number; rate?: number; uptake?: number; sure?: unknown };
    history?: string;
    usual_formula?: Id;
    colour_reaction?: string;
    black_tattoo?: string;
    dye_allergy?: string;
    persulfate_reaction?: string;
    answers?: Record<string, Answer>;
  };
  history_entry: {
    client?: Id;
    at?: Moment;
    what?: string;
    class?: string;
    level?: number;
  } & Corrects;
  line: {
    name?: string;
    class?: ProductClass;
    mix_ratio?: number;
    developer_percent?: number[];
    window?: Product["window"];
    may_mix_with?: string[];
    leaflet_version?: string;
    /** The meaning of each code of the line's shade names, in tone words. */
    legend?: Record<string, string[]>;
    consistency?: Product["consistency"];
    leaflet?: Leaflet;
  };
  product: {
    line?: Id;
    code?: string;
    name?: string;
    level?: number;
    tone?: string[];
    dyes?: Product["dyes"];
    price_per_100g?: number;
    in_stock?: boolean;
  };
  tube: { product?: Id; batch?: string; opened_at?: Moment; finished_at?: Moment };
  formula: {
    name?: string;
    parent?: Id;
    client?: Id;
    /** All entries for it, so that the same can be asked again. */
    entered?: Entered;
    hair?: Hair;
    wish?: Wish;
    mix?: Mix;
    /** The products it used, so that it can be worked out again. */
    products?: Product[];
    window?: Window;
    most_minutes?: number;
    predicted?: Colour;
    chance?: number;
    engine_version?: string;
  };
  service: {
    client?: Id;
    planned_at?: Moment;
    purpose?: Purpose;
    state?: ServiceState;
    /** Whose rules applied when its clock was started. */
    profile?: string;
    wish?: Wish;
    hair?: Hair;
    person?: Id;
    result?: { lab?: Lab; words?: string; at: Moment; photo?: string };
    next_visit?: string;
    facts?: Record<string, unknown>;
    /** What held it when somebody last wanted to begin, in the rules' own words. */
    held?: { at: Moment; rules: string[]; words: string };
    /** Why it was not done, where somebody said so. */
    not_done?: { at: Moment; why: string };
  };
  zone: {
    service?: Id;
    name?: string;
    /** What its mix does. */
    work?: "toner" | "lightener";
    /** The lightener by its leaflet, and the last look under it. */
    lightener?: LightenerSaid;
    looked?: Looked;
    /** Where on the head the mix goes, and whether under heat; the safety rules read both. */
    area?: "scalp" | "lengths" | "off_scalp_foil" | "beard" | "brows" | "lashes";
    heat?: "yes" | "no";
    /** All entries for it, so that the same can be asked again. */
    entered?: Entered;
    hair?: Hair;
    wish?: Wish;
    /** The zone's mix, with the products as they were, and its prediction. */
    mix?: Mix;
    /** The mix as it was chosen, where another amount of it was weighed: `mix` is what was weighed. */
    mix_chosen?: Mix;
    products?: Product[];
    window?: Window;
    /** The longest its products may stay on, by their leaflets. */
    most_minutes?: number;
    /** The minute another look is worth taking at, as the last look has shown. */
    look_again_min?: number;
    predicted?: Colour;
    formula?: Id;
    order?: number;
    first_section_at?: Moment;
    last_section_at?: Moment;
    /** Wall clock, so that it outlives the page. */
    deadline_at?: Moment;
    rinsed_at?: Moment;
  };
  /** A visit as it stood when a zone's first section went on; nothing learnt later is in it. */
  start: {
    service?: Id;
    client?: Id;
    zone?: Id;
    at?: Moment;
    /** Who worked, the salon and the client, by their names of that moment. */
    worker?: string;
    salon?: string;
    name?: string;
    /** Whose rules held. */
    profile?: string;
    wish?: Wish;
    hair?: Hair;
    answers?: FrozenAnswer[];
    tests?: FrozenTest[];
    decisions?: FrozenDecision[];
    work?: "toner" | "lightener";
    bowl?: Bowl;
    lightener?: LightenerSaid;
    window?: Window;
    most_minutes?: number;
    predicted?: Colour;
  } & Corrects;
  /** `photo` is the SHA-256 of one that was kept. */
  note: { service?: Id; client?: Id; text?: string; photo?: string; at?: Moment } & Corrects;
  reading: {
    service?: Id;
    zone?: Id;
    minute?: number;
    where?: "on_head" | "wiped" | "dried";
    source?: "instrument" | "photo" | "eye";
    lab?: Lab;
    words?: ReadingWords;
    at?: Moment;
    /** Whether somebody has said that it is right, though hardly any such head looks so. */
    trusted?: true;
  } & Corrects;
  step: { service?: Id; what?: string; at?: Moment; by?: string } & Corrects;
  decision: {
    service?: Id;
    rule?: string;
    /** The finding's own words for what was decided on: another basis is another decision. */
    basis?: string;
    edition?: string;
    saw?: string;
    why?: string;
    by?: string;
    role?: string;
    at?: Moment;
  } & Corrects;
  /** Closes a matter, and has its id: what was seen, and why it may close. */
  closing: {
    client?: Id;
    service?: Id;
    saw?: string;
    why?: string;
    by?: string;
    role?: string;
    at?: Moment;
  } & Corrects;
  /** A product's effect on somebody, as seen; never changed, only corrected. */
  reaction: {
    client?: Id;
    service?: Id;
    zone?: Id;
    at?: Moment;
    /** In the words the safety rules read: "itch", "hives", "hot_foil" … */
    signs?: string[];
    outcome?: string[];
    /** Each product that was on, with its tube's batch if known. */
    batches?: { product: string; line?: string; batch?: string }[];
    /** What was done, and who was told. */
    done?: string;
    told?: string;
    by?: string;
    text?: string;
    photo?: string;
  } & Corrects;
  alert_test: {
    client?: Id;
    /** The line's name, as it is on the box: the test outlives the shelf. */
    line?: string;
    maker?: string;
    generation?: string;
    leaflet_version?: string;
    applied_at?: Moment;
    site?: string;
    method?: string;
    applied_by?: string;
    from_paper?: boolean;
    result?: string;
    read_at?: Moment;
    read_by?: string;
  };
  swatch: {
    product?: Id;
    level?: number;
    minutes?: number;
    lab?: Lab;
    source?: string;
    at?: Moment;
  } & Corrects;
  person: { name?: string; role?: string };
  setting: { key?: string; value?: unknown };
  device: { name?: string };
}

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

type FieldsOf<K extends Kind> = keyof (typeof table.kinds)[K]["fields"];
type Same<A, B> = [A] extends [B] ? ([B] extends [A] ? true : false) : false;
// Each kind's shape names the table's fields, no more and no fewer; `false` is not allowed here.
type Checked = { [K in Kind]: Same<keyof Records[K], FieldsOf<K>> };
const _every_field_is_typed: { [K in Kind]: true } = {} as Checked;
void _every_field_is_typed;

export type { Kind };
