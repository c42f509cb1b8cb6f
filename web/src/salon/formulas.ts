// Kept formulas: each stays as it was; found by name, tone, client, product or colour.
import { computed } from "@preact/signals";
import type { Formula as Answered } from "../api/shapes";
import { entered } from "../bench/bench";
import { products_in_hand } from "../bench/chosen";
import { hair_of, wish_of } from "../bench/requests";
import { difference, type Lab } from "../colour";
import { all, one } from "../records/read";
import type { Entity, Writing } from "../records/shapes";
import { create } from "../records/write";
import { mix_words } from "../shelf/shelf";
import { plain_text } from "./clients";
import { most_minutes_of, type Zone } from "./service/services";

export type Formula = Entity<"formula">;

/** Keeps a zone's mix under a name; returns the formula's id. */
export async function keep_zone(
  name: string,
  zone: Zone,
  client: string | undefined,
): Promise<string> {
  const { hair, wish, mix, products, window, most_minutes, predicted } = zone;
  const was = zone.entered;
  return keep({
    name,
    hair,
    wish,
    mix,
    products,
    window,
    most_minutes,
    predicted,
    entered: was,
    client,
  });
}

/** Keeps the chosen formula of the try-out under a name. */
export async function keep_chosen(
  name: string,
  { mix, window, predicted, chance }: Answered,
): Promise<string> {
  const spoken_of = new Set(mix.parts.map(({ product }) => product));
  const products = products_in_hand.value.filter(({ id }) => spoken_of.has(id));
  const now = entered();
  return keep({
    name,
    entered: now,
    hair: hair_of(now.hair),
    wish: wish_of(now.wish),
    mix,
    products,
    window,
    most_minutes: most_minutes_of(mix),
    predicted,
    chance,
  });
}

async function keep(
  fields: { [F in keyof Writing<"formula">]: Writing<"formula">[F] | undefined },
): Promise<string> {
  const said = Object.fromEntries(
    Object.entries(fields).filter(([, v]) => v !== undefined && v !== null),
  );
  return create("formula", said as Writing<"formula">);
}

const with_text = computed(() =>
  all("formula")
    .value.map((formula) => ({ formula, text: text_of(formula) }))
    .reverse(),
);

function text_of({ name, client, predicted, mix, wish }: Formula): string {
  const who = client ? one("client", client).value?.name : "";
  const tones = wish && "tone" in wish ? (wish.tone ?? []).join(" ") : "";
  return plain_text([name, who, predicted?.words, mix && mix_words(mix), tones].join(" "));
}

export interface FoundFormula {
  formula: Formula;
  /** How far its dry colour is from the colour searched for, ΔE00. */
  delta_e?: number;
}

/**
 * Returns the formulas that hold every word typed: the nearest to `near` first, else the newest.
 */
export function formulas_found(typed: string, near?: Lab): FoundFormula[] {
  const words = plain_text(typed).split(" ").filter(Boolean);
  const found = with_text.value.filter(({ text }) => words.every((word) => text.includes(word)));
  if (!near) return found.map(({ formula }) => ({ formula }));
  return found
    .flatMap(({ formula }) => {
      const lab = formula.predicted?.lab;
      return lab ? [{ formula, delta_e: difference(lab as Lab, near) }] : [];
    })
    .sort((a, b) => a.delta_e - b.delta_e);
}
