// What a zone dries to if it is rinsed now, what the last look came to, and the way to take it back.

import { useMemo } from "preact/hooks";
import type { StripMinute } from "../../api/shapes";
import { flush_expected } from "../../parts/strip/flush";
import { capital } from "../../parts/words";
import { held_of, minute_in, to_be_judged } from "../../prediction/held";
import { last_act, redo, undo } from "../../records/write";
import { LOOK_WORDS } from "../../salon/service/looks";
import type { Zone } from "../../salon/service/services";
import { tube_said } from "../../salon/service/wrong_tube";
import { Shade, short_words } from "./patches";

interface DryProps {
  zone: Zone;
  minute: number;
}

/** Returns the line under the words. */
export function Dry({ zone, minute }: DryProps) {
  const { prediction, state, sentence } = useMemo(() => held_of(zone.id), [zone.id]).value;
  const dry = prediction && minute_in(prediction.strip, minute)?.if_rinsed;
  const waiting = to_be_judged(zone).length;
  const told = flush_told(prediction?.strip ?? [], minute);
  const aside =
    state === "failed"
      ? waiting > 0
        ? `${waiting === 1 ? "The look is" : `${waiting} looks are`} kept and judged later: no engine now.`
        : (sentence ?? "No engine now. This is the strip as it was last.")
      : waiting > 0
        ? "Judging this head…"
        : (prediction?.this_head ?? told);
  return (
    <div class="basin-dry">
      <Shade colour={dry} />
      <p aria-live="polite">
        <strong>
          {dry ? `Rinsed now: ${short_words(dry)}.` : "The strip is not worked out yet."}
        </strong>
        {aside && <span>{aside}</span>}
      </p>
      <Undo />
    </div>
  );
}

/** Returns that a flush is expected, until it has settled. */
function flush_told(strip: readonly StripMinute[], minute: number): string | undefined {
  const flush = flush_expected(strip);
  if (!flush || minute > flush.last) return undefined;
  return `${capital(flush.tone)} flush until minute ${flush.last}.`;
}

/** The way back from the last act, and on again; a look is taken back where its word stands. */
export function Undo() {
  const act = last_act.value;
  if (!act || act.asks) return null;
  const { id, words, state } = act;
  const is_look = LOOK_WORDS.some(([, said]) => words.endsWith(`: ${said}.`));
  if (is_look && state === "done") return null;
  return (
    <button
      type="button"
      class="basin-undo"
      onClick={() => void (state === "done" ? undo(id) : redo(id))}
    >
      {state === "done" ? "Undo" : "Redo"}: {short_act(words)}
    </button>
  );
}

/** Returns an act without its zone and its full stop: "all over: pinker." is "pinker". */
function short_act(words: string): string {
  const said = words.replace(/\.$/, "").replace(/^[^:]*: /, "");
  const tube = tube_said(said);
  if (tube) return tube;
  return said.charAt(0).toLowerCase() + said.slice(1);
}
