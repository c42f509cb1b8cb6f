// Asks about the entries on the bench, and nothing else does: what the hair looks like, what to
// mix, and the strip of the mix in hand with its what-ifs. main.tsx starts it once, for good.
import { effect } from "@preact/signals";
import type { Hair, PredictionRequest } from "../api/shapes";
import { bare_hair, formulas, strip, what_ifs } from "../engine/questions";
import { shelf } from "../shelf/shelf";
import { bench_zone } from "./bench";
import {
  chosen_formula,
  hair_entered,
  hair_in_hand,
  hair_is_drawn,
  mix_in_hand,
  mix_key,
  products_in_hand,
} from "./chosen";
import { amounts, chosen_mix, hair_entry, what_ifs_shown, wish_entry } from "./entries";
import { bare_request, hair_of, limits_of, wish_of } from "./requests";
import { WHAT_IF_ORDER, what_if_hair } from "./what_ifs";

/** Asks again whenever an entry, the shelf or the choice changes. Runs for good. */
export function watch_questions(): void {
  effect(ask_bare_hair);
  effect(ask_formulas);
  effect(follow_choice);
  effect(ask_strip);
  for (const name of WHAT_IF_ORDER) effect(() => ask_what_if(name));
}

/** Asks what the hair looks like if no reference is drawn for it. */
function ask_bare_hair(): void {
  const hair = hair_of(hair_entry.value);
  if (hair_is_drawn.value || !hair) bare_hair.drop();
  else bare_hair.put(bare_request(hair, shelf.value.products));
}

function ask_formulas(): void {
  const hair = hair_entered.value;
  const wish = wish_of(wish_entry.value);
  const { products } = shelf.value;
  if (!hair || !wish || products.length === 0) formulas.drop();
  else formulas.put({ hair, wish, products, limits: limits_of(amounts.value, products) });
}

/** Lets the chosen formula follow the answer: the mix that was tapped, else the first. */
function follow_choice(): void {
  const asked = formulas.asked.value;
  const found = asked.state === "answered" ? asked.answer.reply.formulas : [];
  chosen_formula.value =
    found.find(({ mix }) => mix_key(mix) === chosen_mix.value) ?? found[0] ?? null;
}

function ask_strip(): void {
  // A zone of a service has a prediction of its own.
  const hair = bench_zone.value ? null : hair_in_hand.value;
  const request = hair && request_for(hair);
  if (request) strip.put(request);
  else strip.drop();
}

function ask_what_if(name: keyof typeof what_ifs): void {
  const hair = what_if_hair.value[name];
  const shown = what_ifs_shown.value.includes(name);
  const request = shown && typeof hair !== "string" ? request_for(hair) : null;
  if (request) what_ifs[name].put(request);
  else what_ifs[name].drop();
}

function request_for(hair: Hair): PredictionRequest | null {
  const mix = mix_in_hand.value;
  const wish = wish_of(wish_entry.value);
  if (!mix || !wish) return null;
  const mixes = [mix, ...(hair.already_on ?? [])];
  const spoken_of = new Set(mixes.flatMap(({ parts }) => parts.map(({ product }) => product)));
  const products = products_in_hand.value.filter(({ id }) => spoken_of.has(id));
  return { hair, mix, products, wish };
}
