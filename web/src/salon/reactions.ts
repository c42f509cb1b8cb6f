// A product's effect on somebody: kept as seen, at once, and never behind anything.

import type { Profile } from "../device/settings";
import { at_now } from "../device/when";
import { caution_of } from "../records/fold";
import { all, one } from "../records/read";
import type { Entity, Records } from "../records/shapes";
import { type Change, new_id, together } from "../records/write";
import { open_batch, product_of } from "../shelf/shelf";
import { running } from "./service/running";
import { rinsed as rinse_zone, zones_of } from "./service/services";

export type Reaction = Entity<"reaction">;

/** The signs, in the words the safety rules read, worst last. */
export const SIGNS = [
  ["itch", "it itches"],
  ["tingling", "it tingles"],
  ["burning", "it burns"],
  ["pain", "it hurts"],
  ["breakage", "hair breaks"],
  ["hot_foil", "a hot foil"],
  ["eye_splash", "in the eye"],
  ["hives", "hives"],
  ["dizzy", "dizzy"],
  ["swelling_face", "the face swells"],
  ["swelling_throat", "lips, mouth or throat swell"],
  ["breathing", "breathing is hard"],
  ["faint", "faint"],
] as const;

/** What was done; several may be. */
export const DONE = [
  "rinsed 20 minutes",
  "mix taken off",
  "cool water",
  "ambulance called",
  "sent to a doctor",
] as const;
/** Who was told. */
export const TOLD = [
  "the client, in writing",
  "the person in charge",
  "the maker",
  "the authority",
];

/** Signs after which you call first and rinse second. */
const CALL_FIRST: readonly string[] = [
  "swelling_throat",
  "swelling_face",
  "breathing",
  "faint",
  "dizzy",
];

/** Returns whether to call for help before anything else. */
export function call_first(signs: readonly string[]): boolean {
  return signs.some((sign) => CALL_FIRST.includes(sign));
}

/** Returns who saw it, by the typed name; empty if none was typed and the author is a phone. */
export function seen_by({ by }: Reaction): string {
  return /^[0-9a-f-]{36}$/.test(by) ? "" : by;
}

/** Returns the words of a sign. */
export function sign_words(sign: string): string {
  return SIGNS.find(([known]) => known === sign)?.[1] ?? sign.replace("_", " ");
}

/** Returns each product that was on in a service, with the batch of its open tube if known. */
export function products_on(service: string): NonNullable<Records["reaction"]["batches"]> {
  const zones = zones_of(service).filter(({ mix }) => mix);
  const seen = new Map<string, { product: string; line?: string; batch?: string }>();
  for (const zone of zones) {
    for (const { product } of zone.mix?.parts ?? []) {
      const known = zone.products?.find(({ id }) => id === product) ?? product_of(product);
      const batch = open_batch(product);
      seen.set(product, {
        product: known?.name ?? product,
        ...(known && { line: known.line }),
        ...(batch && { batch }),
      });
    }
  }
  return [...seen.values()];
}

/** Returns a service's or a client's recorded reactions, the newest first. */
export function reactions_of(id: string): readonly Reaction[] {
  return all("reaction")
    .value.filter(({ service, client }) => service === id || client === id)
    .toReversed();
}

export interface Seen {
  signs: string[];
  done: string[];
  told: string[];
  text: string;
  photo: string;
  by: string;
}

/** Signs other than skin or breath, which do not show that the client reacts to the colour. */
const NO_REACTION: readonly string[] = ["hot_foil", "eye_splash", "breakage"];
const GRAVE: readonly string[] = [...CALL_FIRST, "hives"];

/** Returns what signs make of "has hair colour ever given a reaction?"; undefined for nothing. */
function reaction_of(signs: readonly string[]): "mild" | "severe" | undefined {
  if (signs.some((sign) => GRAVE.includes(sign))) return "severe";
  // If nobody ticked a sign, somebody still saw something.
  const other = signs.length > 0 && signs.every((sign) => NO_REACTION.includes(sign));
  return other ? undefined : "mild";
}

/**
 * Keeps what was seen; `about` is a service's id, or a client's if no service runs. From then on
 * the client counts as one who has reacted. The safety rules hold the next colour until somebody
 * has looked.
 */
export async function record_reaction(about: string, seen: Seen): Promise<string> {
  const service = one("service", about).value;
  const client = service ? service.client : about;
  const id = new_id();
  const fields = {
    ...(client && { client }),
    ...(service && { service: about, batches: products_on(about) }),
    at: at_now(),
    signs: seen.signs,
    done: seen.done.join(", "),
    told: seen.told.join(", "),
    ...(seen.text.trim() && { text: seen.text.trim() }),
    ...(seen.photo && { photo: seen.photo }),
    ...(seen.by.trim() && { by: seen.by.trim() }),
  };
  await together([
    { do: "create", kind: "reaction", id, fields },
    ...raising(client ?? "", reaction_of(seen.signs)),
  ]);
  return id;
}

function raising(client: string, colour_reaction: string | undefined): Change[] {
  const known = one("client", client).value;
  const caution = (word: string) => caution_of("colour_reaction", word);
  if (!known || !colour_reaction) return [];
  if (caution(colour_reaction) <= caution(known.colour_reaction ?? "none")) return [];
  return [{ do: "change", kind: "client", id: client, fields: { colour_reaction } }];
}

/** Stops the clock of every zone of a service that still runs: all of it is rinsed. */
export async function all_rinsed(service: string): Promise<void> {
  for (const clock of running.peek().filter((one) => one.service === service)) {
    await rinse_zone(clock);
  }
}

interface Report {
  words: string;
  source: string;
  checked: boolean;
}

/** Where to report a reaction, by the rules that apply; local rules come first everywhere. */
export const REPORTS: Record<Profile, Report> = {
  eu: {
    words:
      "Tell the name on the label. After hospital, lasting harm or a risk to life, tell your country’s authority for cosmetics too. A salon’s own duty differs by country.",
    source: "Regulation (EC) 1223/2009, Article 23, read in a summary",
    checked: true,
  },
  uk: {
    words:
      "Tell the name on the label and Trading Standards. If the client went straight to hospital, check the duty to report injuries.",
    source: "2019 product safety regulations, Schedule 34; reporting of injuries 2013",
    checked: false,
  },
  us: {
    words:
      "Tell the name on the label: it has 15 business days to report a serious event. You may report to the FDA yourself.",
    source: "Modernization of Cosmetics Regulation Act of 2022, read in summaries",
    checked: true,
  },
  other: {
    words:
      "Tell the name on the label, and your country’s authority for cosmetics. After hospital, ask whether you must report it.",
    source: "the stricter of the EU’s, the UK’s and the US’s rules",
    checked: false,
  },
};
