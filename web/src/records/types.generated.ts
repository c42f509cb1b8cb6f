// Written by scripts/record_fields.py from the contract's types of records; never by hand.
import type { Schemas } from "../api/shapes";

/** What earlier visits taught about a head. */
export interface Learnt {
  porosity?: number;
  rate?: number;
  uptake?: number;
  sure?: Schemas["Sure"];
}

/** One answer, with its moment and who wrote it down. */
export interface KeptAnswer {
  value: string | number | boolean | (string | PastSaid)[] | null;
  at: string;
  /** Who wrote it down; empty while nobody has said. */
  by: string;
  asked?: string;
  words?: string;
  options?: SaidOption[];
}

/** What was entered of a line's leaflet. It may hold more. */
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

/** Everything entered for one bowl. */
export interface Entered {
  hair: HairEntry;
  wish: WishEntry;
  amounts: AmountsEntry;
  chosen_mix: string;
}

/** What came of a service. */
export interface Result {
  at: string;
  lab?: [number, number, number];
  words?: string;
  /** The SHA-256 of a photo that was kept. */
  photo?: string;
}

/** What held a service when somebody last wanted to begin, in the rules' own words. */
export interface HeldAt {
  at: string;
  rules: string[];
  words: string;
}

/** Why a service was not done, where somebody said so. */
export interface NotDone {
  at: string;
  why: string;
}

/** A lightener by its leaflet. Until `max_min` is known, it cannot go on. */
export interface LightenerSaid {
  kind: "cream" | "powder";
  /** Of peroxide: at most 12. */
  developer_percent: number;
  check_every_min: number;
  /** Grams of developer per gram of lightener. */
  mix_ratio: number;
  grams: number;
  max_min?: number;
}

/** A wiped strand under a lightener at a minute: its level by the chart, or measured wet. */
export interface Looked {
  minute: number;
  level?: number;
  warmth?: number;
  lab?: [number, number, number];
}

/** Who heard an alarm, and when. */
export interface Heard {
  at: string;
  /** The person, or the device where nobody was named. */
  by: string;
}

/** An answer as it stood when a visit began: what was asked, what was said, when, to whom. */
export interface FrozenAnswer {
  fact: string;
  value: string | number | boolean | (string | PastSaid)[] | null;
  asked?: string;
  words?: string;
  at?: string;
  by?: string;
}

/** An alert test as it stood when a visit began. */
export interface FrozenTest {
  line?: string;
  applied_at?: string;
  site?: string;
  applied_by?: string;
  result?: string;
  read_at?: string;
  read_by?: string;
  from_paper?: boolean;
}

/** A decision as it stood when a visit began. */
export interface FrozenDecision {
  rule?: string;
  basis?: string;
  saw?: string;
  why?: string;
  by?: string;
  role?: string;
  at?: string;
}

/** What was weighed, by the names on the tubes. */
export interface Bowl {
  parts: BowlPart[];
  developer?: BowlDeveloper;
}

/** A product that was on, with its tube's batch where it is known. */
export interface BatchOn {
  product: string;
  line?: string;
  batch?: string;
}

/** One swatch of a plan. */
export interface PlannedSwatch {
  /** The short code on a swatch's label, as in A3. */
  code: string;
  hair: Schemas["Hair"];
  mix: Schemas["Mix"];
  expected?: [number, number, number];
}

/** When a planned swatch was painted and rinsed. */
export interface Painted {
  on_at: string;
  /** The person, or the device where nobody was named. */
  by: string;
  rinsed_at?: string;
}

/** The colour of a swatch that was rinsed at `minute` and dried. */
export interface DryReading {
  minute: number;
  source: "eye" | "instrument" | "photo";
  lab: [number, number, number];
  where?: "dried";
  /** How far each of L*, a* and b* is off, where it is known. */
  sd?: number;
}

/** One patch of a card for photos, by its row and column from the top left. */
export interface CardPatch {
  row: number;
  column: number;
  lab: [number, number, number];
}

/** A setting of several parts: an answer of a line, or the insurer's terms. It may hold more. */
export interface SettingInParts {
  value?: string | number | boolean | (string | PastSaid)[] | null;
  at?: string;
  by?: string;
  asked?: string;
  words?: string;
  options?: SaidOption[];
  months?: number;
  why?: string;
  review_on?: string;
  [more: string]: unknown;
}

/** One thing that was done to this hair before, as it was said. It may hold more. */
export interface PastSaid {
  what?: string;
  on?: string | null;
  zone?: string | null;
  [more: string]: unknown;
}

/** One of the answers that could be given. */
export interface SaidOption {
  value: string;
  words: string;
}

/** The hair as it was described. */
export interface HairEntry {
  /** How the colourist looks at the hair while choosing its level. */
  seen: "dry" | "wet";
  level: number;
  warmth: number;
  porosity: number;
  damp: number;
  white_share: number;
  lifted: boolean;
  by_reading: boolean;
  reading: ReadingEntry;
  already_on: AlreadyOn[];
  also: OtherHairEntry[];
  /** How much its white hair takes up; 1 is usual. */
  white_uptake?: number;
}

/** The wish as it was entered. */
export interface WishEntry {
  by_reading: boolean;
  level: number;
  tone: string[];
  lab: [string, string, string];
  tolerance: number;
}

/** How much is mixed, and of how many products. */
export interface AmountsEntry {
  total_g: number;
  max_products: number;
  /** How long the hair is; empty while the entered amount counts. */
  length: string;
  density: string;
  /** How much of the head the zone is; 0 while nobody has said. */
  share: number;
  /** What was left over last time; empty until somebody says. */
  left_over: string;
  /** The only strength to use; 0 for the lowest that does it. */
  developer_percent?: number;
}

/** One product that was weighed. */
export interface BowlPart {
  product: string;
  name: string;
  grams: number;
  line?: string;
  batch?: string;
}

/** The developer that was weighed. */
export interface BowlDeveloper {
  percent: number;
  grams: number;
}

/** A measured colour as it was typed. */
export interface ReadingEntry {
  lab: [string, string, string];
  state: "damp" | "dry" | "wet";
}

/** A mix that is on the hair already. */
export interface AlreadyOn {
  product: string;
  minutes: number;
}

/** Other hair on the same head. */
export interface OtherHairEntry {
  name: string;
  share: number;
  level: number;
  warmth: number;
  porosity: number;
  lifted: boolean;
}

/** The fields of each kind; every one may be missing. */
export interface RecordFields {
  /** A client. */
  client: {
    name?: string;
    phone?: string;
    /** YYYY or YYYY-MM-DD. */
    born?: string;
    hair?: Schemas["Hair"];
    learnt?: Learnt;
    history?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    usual_formula?: string;
    colour_reaction?: string;
    black_tattoo?: string;
    dye_allergy?: string;
    persulfate_reaction?: string;
    answers?: Record<string, KeptAnswer>;
  };
  /** One thing that happened to a client's hair before. */
  history_entry: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    client?: string;
    at?: string;
    what?: string;
    class?: string;
    level?: number;
    /** The record of the same kind that this one corrects. */
    corrects?: string;
  };
  /** A product line. */
  line: {
    name?: string;
    class?: "acid_demi" | "alkaline_demi" | "direct" | "neutral_demi" | "permanent";
    mix_ratio?: number;
    developer_percent?: number[];
    window?: Schemas["MinuteSpan"];
    may_mix_with?: string[];
    leaflet_version?: string;
    /** What each code of the line's shade names means, in tone words. */
    legend?: Record<string, string[]>;
    consistency?: "cream" | "gel" | "light_cream" | "liquid";
    /** The hair a line is made for, by its maker's chart. `any` is for natural and white hair up to level 7, and for lightened hair from 8. */
    promised_on?: "any" | "lifted" | "white";
    leaflet?: Leaflet;
    /** What is known of its products; none: their labels. */
    calibration?: string;
  };
  /** A product of a line. */
  product: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    line?: string;
    code?: string;
    name?: string;
    level?: number;
    tone?: string[];
    dyes?: Schemas["Dyes"];
    price_per_100g?: number;
    in_stock?: boolean;
  };
  /** One tube of a product. */
  tube: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    product?: string;
    batch?: string;
    opened_at?: string;
    finished_at?: string;
  };
  /** A formula that was kept. */
  formula: {
    name?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    parent?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    client?: string;
    entered?: Entered;
    hair?: Schemas["Hair"];
    wish?: Schemas["Wish"];
    mix?: Schemas["Mix"];
    /** As they were, to be worked out again. */
    products?: Schemas["Product"][];
    window?: Schemas["Window"];
    most_minutes?: number;
    predicted?: Schemas["Colour"];
    chance?: number;
    engine_version?: string;
    /** Those in force when it was kept. */
    calibrations?: string[];
  };
  /** A service: one visit. */
  service: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    client?: string;
    planned_at?: string;
    purpose?: "client" | "strand" | "swatch" | "test_dab" | "training_head";
    state?: "cancelled" | "ended" | "planned" | "started";
    /** Whose rules held when its clock was started. */
    profile?: string;
    wish?: Schemas["Wish"];
    hair?: Schemas["Hair"];
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    person?: string;
    result?: Result;
    next_visit?: string;
    facts?: Record<string, KeptAnswer>;
    held?: HeldAt;
    not_done?: NotDone;
  };
  /** A zone of a service: a part of the head with its own mix. */
  zone: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    service?: string;
    name?: string;
    /** What its mix does. */
    work?: "lightener" | "toner";
    lightener?: LightenerSaid;
    looked?: Looked;
    area?: "beard" | "brows" | "lashes" | "lengths" | "off_scalp_foil" | "scalp";
    heat?: "no" | "yes";
    entered?: Entered;
    hair?: Schemas["Hair"];
    wish?: Schemas["Wish"];
    mix?: Schemas["Mix"];
    /** The mix as it was chosen, where another amount of it was weighed: `mix` is what was weighed. */
    mix_chosen?: Schemas["Mix"];
    /** As they were, to be worked out again. */
    products?: Schemas["Product"][];
    window?: Schemas["Window"];
    /** The longest its products may stay on, by leaflet. */
    most_minutes?: number;
    /** The minute another look is worth taking at, as the last look shows. */
    look_again_min?: number;
    predicted?: Schemas["Colour"];
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    formula?: string;
    order?: number;
    first_section_at?: string;
    last_section_at?: string;
    /** Wall clock, so that it outlives the page. */
    deadline_at?: string;
    rinsed_at?: string;
    /** Each alarm that was heard, under what it asked for and its moment in UTC, as in "by 2026-11-30T10:12:00Z". An alarm of another moment was not heard by that. */
    heard?: Record<string, Heard>;
  };
  /** A visit as it stood when a zone's first section went on; nothing learnt later is in it. */
  start: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    service?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    client?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    zone?: string;
    at?: string;
    worker?: string;
    salon?: string;
    name?: string;
    profile?: string;
    wish?: Schemas["Wish"];
    hair?: Schemas["Hair"];
    answers?: FrozenAnswer[];
    tests?: FrozenTest[];
    decisions?: FrozenDecision[];
    work?: "lightener" | "toner";
    bowl?: Bowl;
    lightener?: LightenerSaid;
    window?: Schemas["Window"];
    most_minutes?: number;
    predicted?: Schemas["Colour"];
    /** The record of the same kind that this one corrects. */
    corrects?: string;
  };
  /** A note. */
  note: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    service?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    client?: string;
    text?: string;
    /** The SHA-256 of a photo that was kept. */
    photo?: string;
    at?: string;
    /** The record of the same kind that this one corrects. */
    corrects?: string;
  };
  /** A colour that was seen or measured. */
  reading: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    service?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    zone?: string;
    minute?: number;
    where?: "dried" | "on_head" | "wiped";
    source?: "eye" | "instrument" | "photo";
    lab?: [number, number, number];
    /** Whether somebody has said that it is right, though hardly any such head looks so. */
    trusted?: boolean;
    words?: "as_shown" | "darker" | "greener" | "greyer" | "lighter" | "more_violet" | "patchy" | "pinker" | "yellower";
    at?: string;
    /** The record of the same kind that this one corrects. */
    corrects?: string;
  };
  /** Something that was done in a service. */
  step: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    service?: string;
    what?: string;
    at?: string;
    by?: string;
    /** The record of the same kind that this one corrects. */
    corrects?: string;
  };
  /** A named person's decision on one finding. */
  decision: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    service?: string;
    rule?: string;
    /** The finding's own words for what was decided on: another basis is another decision. */
    basis?: string;
    edition?: string;
    saw?: string;
    why?: string;
    by?: string;
    role?: string;
    at?: string;
    /** The record of the same kind that this one corrects. */
    corrects?: string;
  };
  /** Closes a matter that needed a look, and bears its id: what was seen, why it may rest. */
  closing: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    client?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    service?: string;
    saw?: string;
    why?: string;
    by?: string;
    role?: string;
    at?: string;
    /** The record of the same kind that this one corrects. */
    corrects?: string;
  };
  /** What a product did to somebody, as it was seen; never changed, only put right. */
  reaction: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    client?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    service?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    zone?: string;
    at?: string;
    /** In the safety rules' words. */
    signs?: string[];
    outcome?: string[];
    batches?: BatchOn[];
    /** What was done about it. */
    done?: string;
    /** Who was told. */
    told?: string;
    by?: string;
    text?: string;
    /** The SHA-256 of a photo that was kept. */
    photo?: string;
    /** The record of the same kind that this one corrects. */
    corrects?: string;
  };
  /** An alert test. `line` is the name on the box: the test outlives the shelf. */
  alert_test: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    client?: string;
    line?: string;
    maker?: string;
    generation?: string;
    leaflet_version?: string;
    applied_at?: string;
    site?: string;
    method?: string;
    applied_by?: string;
    from_paper?: boolean;
    result?: string;
    read_at?: string;
    read_by?: string;
    /** Each alarm that was heard, under what it asked for and its moment in UTC, as in "by 2026-11-30T10:12:00Z". An alarm of another moment was not heard by that. */
    heard?: Record<string, Heard>;
  };
  /** Swatches to be painted, and which of them have been. */
  swatch_plan: {
    name?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    line?: string;
    /** As they were, to be worked out again. */
    products?: Schemas["Product"][];
    rows?: PlannedSwatch[];
    at?: string;
    /** By the code of the swatch. */
    painted?: Record<string, Painted>;
  };
  /** A painted swatch, read once it was dry. */
  swatch: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    plan?: string;
    /** The short code on a swatch's label, as in A3. */
    code?: string;
    /** Its bare end, measured where it could be. */
    hair?: Schemas["Hair"];
    mix?: Schemas["Mix"];
    after?: DryReading;
    /** What it was read together with: one photo, one instrument. */
    group?: string;
    batch?: string;
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    card?: string;
    /** The SHA-256 of a photo that was kept. */
    photo?: string;
    words?: string;
    at?: string;
    /** The record of the same kind that this one corrects. */
    corrects?: string;
  };
  /** What swatches taught about a line. It never changes; the line says which is in force. */
  calibration: {
    /** A UUID in lower case, made by the device; version 7 keeps the log in order. */
    line?: string;
    swatches?: string[];
    left_out?: string[];
    /** With the amounts and the speed learnt. */
    products?: Schemas["Product"][];
    /** Median CIEDE2000 of the swatches, each left out of the fit in turn. */
    error?: number;
    engine_version?: string;
    /** The person, or the device where nobody was named. */
    by?: string;
    at?: string;
  };
  /** A card of patches of known colour, which lies beside swatches in a photo. */
  card: {
    name?: string;
    patches?: CardPatch[];
    at?: string;
  };
  /** Somebody of the team. */
  person: {
    name?: string;
    role?: string;
  };
  /** A setting of the salon. What it holds depends on its key. */
  setting: {
    key?: string;
    value?: string | number | boolean | (string | number)[] | SettingInParts | null;
  };
  /** A phone of the salon. */
  device: {
    name?: string;
  };
}
