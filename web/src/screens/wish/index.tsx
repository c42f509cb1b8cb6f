// The wish: level and tone by looking, beside the present hair.

import { useCallback } from "preact/hooks";
import { hair_entry, wish_entry } from "../../bench/entries";
import { first_words, no_mix } from "../../bench/no_mix";
import { kept_in_window } from "../../device/kept";
import { fault_at } from "../../engine/faults";
import { formulas } from "../../engine/questions";
import { Choice } from "../../parts/choice";
import { later } from "../../parts/later";
import { LevelStepper } from "../../parts/levels/stepper";
import { Stopped } from "../../parts/notice";
import { Patch } from "../../parts/patch";
import { ToneChart } from "../../parts/tones";
import { TONES, wish_hex } from "../../references";
import { shelf } from "../../shelf/shelf";
import { change, choose_tone } from "./actions";
import { Leans, More } from "./more";
import { wish_look, wish_words } from "./shown";
import "./style.css";

const WishField = later(() => import("./field").then((part) => part.WishField), { tall: true });

/** Whether the wish is chosen on the field; words always serve where letters are large. */
const by_field = kept_in_window("wish_by_field", false);
/** Whether one way was just taken, and the other is about to be shown. */
let is_on_way = false;

/** Returns the section "Wish", open; `hair` is the hair's dry colour, to show beside it. */
export function Wish({ hair }: { hair: { hex: string | undefined; words: string } }) {
  const { level, tone, by_reading } = wish_entry.value;
  const slides = by_field.value && !by_reading;
  return (
    <>
      <p>Both dry. Choose the colour you want.</p>
      <div class={slides ? "stack wish-sized wish-slides" : "stack wish-sized"}>
        <div class="surround wish-match">
          <div class="live">
            <div class="patches">
              <Patch label="hair now" hex={hair.hex} words={hair.words} missing="not known yet" />
              <Patch
                label="wish"
                hex={wish_look.value}
                words={wish_words.value || " "}
                missing={wish_words.value ? "being worked out" : "tap a tone"}
              />
            </div>
            <p class="wish-verdict" role="status">
              {verdict()}
            </p>
          </div>
          {!by_reading && !slides && <Way to={true} words="Slide over a field" />}
          {!by_reading && (
            <div class="wish-by-words">
              <ToneChart
                tones={TONES.map((word) => [word, wish_hex(level, word)])}
                chosen={tone[0]}
                second={tone[1]}
                onChoose={choose_tone}
              />
            </div>
          )}
        </div>
        {slides && <WishField hair={{ hex: hair.hex, level: hair_level() }} />}
        {slides && <Way to={false} words="Tap words instead" />}
        {!by_reading && (
          <div class="stack wish-by-words">
            {tone[0] && <Leans />}
            <LevelStepper
              label="Level to land on"
              level={level}
              onLevel={(value) => change({ level: value })}
              fault={fault_at("/wish/level")}
            />
          </div>
        )}
      </div>
      {fault_at("/wish/tone") && <p class="fault">{fault_at("/wish/tone")}</p>}
      <Reasons />
      <Choice
        legend="Wish by"
        options={[
          [false, "words"],
          [true, "a reading"],
        ]}
        value={by_reading}
        onChoose={(value) => change({ by_reading: value })}
      />
      <More />
    </>
  );
}

/** The way from the words to the field, and back; one takes the focus that the other had. */
function Way({ to, words }: { to: boolean; words: string }) {
  const focus = useCallback((button: HTMLButtonElement | null) => {
    if (!button || !is_on_way) return;
    is_on_way = false;
    button.focus({ preventScroll: true });
  }, []);
  return (
    <button
      ref={focus}
      type="button"
      class="wish-way"
      onClick={() => {
        is_on_way = true;
        by_field.value = to;
      }}
    >
      {words}
    </button>
  );
}

/** The level of the hair now, as entered; undefined for hair that a reading tells. */
function hair_level(): number | undefined {
  const { by_reading, level } = hair_entry.value;
  return by_reading ? undefined : level;
}

/** Returns the shelf's answer to the wish, at once and in a line. */
function verdict(): string {
  const asked = formulas.asked.value;
  if (shelf.value.products.length === 0) return "Your shelf is not here yet.";
  if (asked.state === "nothing") return "Tap a tone to see a mix.";
  if (asked.state === "working") return "Looking along your shelf…";
  if (asked.state === "failed") return "No answer yet.";
  if (no_mix.value) return `${no_mix.value.main}.`;
  const { shortfall } = asked.answer.reply;
  return shortfall ? `${first_words(shortfall)}.` : "Your shelf can do this.";
}

/** Why the shelf falls short of the wish, or why nothing could be worked out. */
function Reasons() {
  const asked = formulas.asked.value;
  if (asked.state === "failed") {
    return <Stopped sentence={asked.sentence} onAgain={() => formulas.again()} />;
  }
  const shortfall = asked.state === "answered" ? asked.answer.reply.shortfall : null;
  const why = no_mix.value?.why ?? shortfall?.words;
  return why ? <p>{why}</p> : null;
}
