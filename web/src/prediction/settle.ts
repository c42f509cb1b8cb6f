// Works out what is foretold of a zone from its looks, and sets a look apart that hardly any such
// head could show: until somebody has said that it is right, nothing follows from it.
import type { JudgementReply, Product, Window } from "../api/shapes";
import { type Answer, ask } from "../engine/ask";
import { asked_look, judgement_of, type Look, products_of } from "../salon/service/readings";
import type { Zone } from "../salon/service/services";
import { shelf } from "../shelf/shelf";
import type { Doubt, Prediction, Settled } from "./held";

const MOST_SUSPECTS = 60;

/**
 * Returns what is foretold of a zone with a mix, and the last look that is in doubt.
 *
 * Throws as `ask` does.
 */
export async function settle(
  zone: Zone,
  looks: readonly Look[],
  about: string,
  signal: AbortSignal,
): Promise<Settled> {
  const of = { about, judged: looks.map(({ id }) => id) };
  let believed = looks;
  let doubt: Doubt | undefined;
  for (;;) {
    const request = judgement_of(zone, believed);
    if (!request) {
      return { prediction: { ...of, ...(await described(zone, signal)) }, ...(doubt && { doubt }) };
    }
    const products = [...request.products, ...mistaken_for(request.products)];
    const answer = await ask("judgements", { ...request, products }, { signal });
    const { surprise, advice } = answer.reply;
    const look = surprise && believed.filter(is_asked)[surprise.reading];
    if (!look || look.trusted) {
      return { prediction: { ...of, ...as_judged(answer) }, ...(doubt && { doubt }) };
    }
    const { words, could_be } = surprise;
    const { do: if_true, at_minute } = advice;
    doubt ??= { look, words, could_be, if_true, ...(at_minute !== undefined && { at_minute }) };
    believed = believed.filter((other) => other !== look);
  }
}

const is_asked = (look: Look) => asked_look(look).length > 0;
type Worked = Omit<Prediction, "about" | "judged">;

/** Returns the prediction of a head that nobody has looked at yet. */
async function described(zone: Zone, signal: AbortSignal): Promise<Worked> {
  const { hair, mix, wish } = zone;
  if (!hair || !mix || !wish)
    throw new Error("A zone without hair, mix and wish foretells nothing.");
  const request = { hair, mix, wish, products: products_of(zone) };
  const { reply, worked_out, answered_at_ms } = await ask("predictions", request, { signal });
  const { strip, window } = reply;
  return { strip, window, saturate: false, hair, worked_out, answered_at_ms };
}

function as_judged(answer: Answer<"judgements">): Worked {
  const { reply, worked_out, answered_at_ms } = answer;
  const { strip, hair, this_head, advice, too_early, too_late } = reply;
  return {
    ...{ strip, hair, this_head, worked_out, answered_at_ms },
    ...minutes_of(reply),
    advice: advice.words,
    ...(too_early && { too_early: too_early.words }),
    ...(too_late && { too_late: too_late.words }),
  };
}

/** Returns the minutes of a judged head: its window, and when another look is worth it. */
export function minutes_of({
  window,
  advice,
}: Pick<JudgementReply, "window" | "advice">): Pick<
  Prediction,
  "window" | "look_again_min" | "saturate"
> {
  const { do: what, at_minute } = advice;
  if ("reason" in window || at_minute === undefined) return { window, saturate: false };
  if (what === "look_again" || what === "saturate_again") {
    return { window, look_again_min: at_minute, saturate: what === "saturate_again" };
  }
  return { window: sooner(window, at_minute), saturate: false };
}

/** An earlier minute that is as good, as far as anyone could see, is the best one. */
function sooner(window: Extract<Window, { best: number }>, at_minute: number): Window {
  const { earliest, best } = window;
  return at_minute >= earliest && at_minute < best ? { ...window, best: at_minute } : window;
}

/** The tubes that a hand may have taken for one of the mix: those of its classes. */
function mistaken_for(mixed: readonly Product[]): Product[] {
  const classes = new Set(mixed.map((product) => product.class));
  const here = new Set(mixed.map(({ id }) => id));
  return shelf
    .peek()
    .products.filter((product) => classes.has(product.class) && !here.has(product.id))
    .slice(0, MOST_SUSPECTS);
}
