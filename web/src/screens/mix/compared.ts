// Which mix is taken, and which two are laid beside each other.
import { computed, signal } from "@preact/signals";
import type { Formula } from "../../api/shapes";
import { chosen_formula, mix_key } from "../../bench/chosen";
import { chosen_mix } from "../../bench/entries";
import { formulas } from "../../engine/questions";
import { line_of } from "./said";

/** The mixes that are ticked, by their keys: two at most, the one ticked first in front. */
export const ticked = signal<readonly string[]>([]);

/** The ticks whose comparison was opened: with other ticks it is closed. */
const opened = signal<readonly string[]>([]);

const MOST_TICKED = 2;

/** The mix that was tapped last, until its answer is there. */
let tapped = "";

/** Takes a formula as the one to mix. */
export function choose({ mix }: Formula): void {
  tapped = mix_key(mix);
  chosen_mix.value = tapped;
  end_compare();
}

/** Whether this formula was tapped just now; asked once. */
export function was_tapped({ mix }: Formula): boolean {
  const was = mix_key(mix) === tapped;
  tapped = "";
  return was;
}

/** Ticks a mix, or takes its tick away; a third one replaces the first. */
export function tick(key: string): void {
  const others = ticked.value.filter((one) => one !== key);
  ticked.value =
    others.length < ticked.value.length ? others : [...others, key].slice(-MOST_TICKED);
}

/** The two mixes that would be compared: those ticked, or the answer and the one that is. */
export const compared = computed<readonly [Formula, Formula] | undefined>(() => {
  const asked = formulas.asked.value;
  const found = asked.state === "answered" ? asked.answer.reply.formulas : [];
  const of_key = (key: string) => found.find(({ mix }) => mix_key(mix) === key);
  const chosen = chosen_formula.value;
  const pair = ticked.value
    .map(of_key)
    .filter((formula) => formula !== undefined && (ticked.value.length > 1 || formula !== chosen));
  const [one, other] = pair.length === 1 && chosen ? [chosen, ...pair] : pair;
  return one && other ? [one, other] : undefined;
});

/** The two mixes that are compared now; undefined while the answer is shown. */
export const comparing = computed(() =>
  opened.value === ticked.value ? compared.value : undefined,
);

/** Opens the comparison of what is ticked. */
export function compare(): void {
  opened.value = ticked.value;
}

/** Goes back to the answer and its other ways. */
export function end_compare(): void {
  ticked.value = [];
}

/** Returns what the two are called on their buttons: by their lines, or by their places. */
export function names_of([one, other]: readonly [Formula, Formula]): [string, string] {
  const [left, right] = [line_of(one.mix), line_of(other.mix)];
  return left && right && left !== right ? [left, right] : ["the left", "the right"];
}
