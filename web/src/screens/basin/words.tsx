// The nine words of a look, around the colour they compare with: one tap says how it differs.
import { computed, type ReadonlySignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import { kept } from "../../device/kept";
import { held, held_of, minute_in, type Prediction } from "../../prediction/held";
import type { ReadingWords } from "../../records/shapes";
import { last_act, undo } from "../../records/write";
import { keep_look, LOOK_WORDS, look_words, take_back_look } from "../../salon/service/looks";
import { type Look, readings_of } from "../../salon/service/readings";
import { minutes_of, now_ms, type Running } from "../../salon/service/running";
import type { Zone } from "../../salon/service/services";
import { Dry } from "./dry";
import { Shade, short_words } from "./patches";

type Where = "on_head" | "wiped" | "dried";
const LANE = { on_head: "on_head", wiped: "wiped", dried: "if_rinsed" } as const;
const SAID: Record<Where, string> = {
  on_head: "I see the head",
  wiped: "I wiped a strand",
  dried: "I dried a strand",
};
/** A word that was just said can be taken back where it stands. */
export const UNDO_MS = 10_000;
// A wet glove taps twice within a third of a second.
const SETTLES_MS = 600;
const WORD = new Map(LOOK_WORDS);
// Lighter is up and darker down; cooler left, warmer right.
const ROUND: readonly ReadingWords[] = [
  ...(["greyer", "lighter", "yellower", "more_violet", "as_shown", "greener"] as const),
  ...(["pinker", "darker", "patchy"] as const),
];

/** What was looked at last, which is what is looked at next. */
const looking_at = kept<Where>("looking_at", "on_head");

interface WordsProps {
  zone: Zone;
  clock: Running;
  /** The acts that have no room in the bar. */
  more: ComponentChildren;
}

/** Returns what is looked at, the words around its colour, and what it dries to. */
export function LookAround({ zone, clock, more }: WordsProps) {
  const { prediction } = useMemo(() => held_of(zone.id), [zone.id]).value;
  const minute = useMemo(() => minutes_of(clock), [clock]).value;
  const ways: Where[] = "reason" in clock.window ? ["wiped", "dried"] : ["on_head", "wiped"];
  const where = ways.includes(looking_at.value) ? looking_at.value : (ways[0] ?? "wiped");
  return (
    <>
      <div class="basin-seg" role="radiogroup" aria-label="Looking at">
        {ways.map((way) => (
          <label key={way}>
            <input
              type="radio"
              class="cover"
              name="looking at"
              checked={way === where}
              onChange={() => {
                looking_at.value = way;
              }}
            />
            <span class="basin-way">{SAID[way]}</span>
          </label>
        ))}
      </div>
      <div class="basin-round">
        {ROUND.map((words) => (
          <Word
            key={words}
            words={words}
            zone={zone}
            minute={minute}
            where={where}
            prediction={prediction}
          />
        ))}
      </div>
      <Dry zone={zone} minute={minute} />
      {more}
    </>
  );
}

interface WordProps {
  words: ReadingWords;
  zone: Zone;
  minute: number;
  where: Where;
  prediction: Prediction | undefined;
}

function Word({ words, zone, minute, where, prediction }: WordProps) {
  const colour = prediction && minute_in(prediction.strip, minute)?.[LANE[where]];
  const look = useMemo(() => just_said(zone.id, words), [zone.id, words]).value;
  const settled = use_settled_since(look?.id);
  return (
    <button
      type="button"
      class={`basin-word basin-${words.replaceAll("_", "-")}`}
      data-said={look ? "yes" : undefined}
      disabled={!prediction}
      onClick={() => {
        if (!look) void keep_look(zone, { minute, where, source: "eye", words });
        else if (settled) void take_back(look);
      }}
    >
      {words === "as_shown" ? (
        <>
          <Shade colour={colour} />
          <span class="basin-shown">
            <strong>{look ? "Undo: as shown" : "as shown"}</strong>
            {colour && <span class="basin-colour">{short_words(colour)}</span>}
          </span>
        </>
      ) : (
        `${look ? "Undo: " : ""}${WORD.get(words)}`
      )}
    </button>
  );
}

/** The look that was said in this word within the last seconds, while it is the last one. */
function just_said(zone: string, words: ReadingWords): ReadonlySignal<Look | undefined> {
  return computed(() => {
    const last = readings_of(zone).at(-1);
    if (last?.words !== words || last.trusted || held(zone).doubt) return undefined;
    const until_ms = Date.parse(last.at ?? "") + UNDO_MS;
    return computed(() => now_ms.value < until_ms).value ? last : undefined;
  });
}

/** Takes a look back: as the last act, where it is that. */
async function take_back(look: Look): Promise<void> {
  const act = last_act.peek();
  if (act?.words.endsWith(`: ${look_words(look)}.`)) await undo(act.id);
  else await take_back_look(look);
}

/** Whether what stands there has stood long enough not to be met by the tap that brought it. */
function use_settled_since(id: string | undefined): boolean {
  const [settled, put_settled] = useState<string>();
  useEffect(() => {
    const timer = setTimeout(() => put_settled(id), SETTLES_MS);
    return () => clearTimeout(timer);
  }, [id]);
  return id !== undefined && settled === id;
}
