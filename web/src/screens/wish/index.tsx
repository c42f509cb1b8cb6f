// What it should become: level and tone by looking, beside the hair as it is.
import { fault_at } from "../../engine/faults";
import { formulas } from "../../engine/lines";
import { Choice } from "../../parts/choice";
import { Patch } from "../../parts/patch";
import { LEVELS, TONES, wish_hex } from "../../parts/references";
import { Stepper } from "../../parts/stepper";
import { ToneChart } from "../../parts/tones";
import { level_words } from "../../parts/words";
import { wish_entry } from "../../records/entries";
import { change, choose_tone, wish_look, wish_words } from "./actions";
import { More } from "./more";
import "./style.css";

const LOWEST_WISH = 5;

/** Returns the section "Wish", open; `hair` is how the hair looks dry, for beside it. */
export function Wish({ hair }: { hair: { hex: string | undefined; words: string } }) {
  const { level, tone, by_reading } = wish_entry.value;
  const levels = LEVELS.filter((at) => at >= LOWEST_WISH);
  const darker = levels.findLast((at) => at < level);
  const lighter = levels.find((at) => at > level);
  return (
    <>
      <p>Both dry. Tap the tone you want to land on.</p>
      <div class="surround wish-match">
        <div class="patches">
          <Patch label="hair now" hex={hair.hex} words={hair.words} missing="not known yet" />
          <Patch
            label="wish"
            hex={wish_look.value}
            words={wish_words.value || " "}
            missing={wish_words.value ? "being worked out" : "tap a tone"}
          />
        </div>
        {!by_reading && (
          <ToneChart
            tones={TONES.map((word) => [word, wish_hex(level, word)])}
            chosen={tone[0]}
            onChoose={choose_tone}
          />
        )}
      </div>
      {!by_reading && (
        <Stepper
          label="Level to land on"
          words={level_words(level)}
          less="half a level deeper"
          more="half a level lighter"
          onLess={darker === undefined ? undefined : () => change({ level: darker })}
          onMore={lighter === undefined ? undefined : () => change({ level: lighter })}
          fault={fault_at("/wish/level")}
        />
      )}
      {fault_at("/wish/tone") && <p class="fault">{fault_at("/wish/tone")}</p>}
      <WithinReach />
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

/** Says at once what the shelf makes of the wish: lift first, out of reach, or within reach. */
function WithinReach() {
  const asked = formulas.asked.value;
  const shortfall = asked.state === "answered" ? asked.answer.reply.shortfall : undefined;
  return (
    <div class="wish-reach" role="status">
      {asked.state === "nothing" && <p class="quiet">Whether your shelf can do it shows here.</p>}
      {asked.state === "working" && <p class="quiet">Looking along your shelf…</p>}
      {asked.state === "failed" && <p>{asked.sentence}</p>}
      {shortfall === null && <p>Your shelf can do this from here.</p>}
      {shortfall?.lift_first !== undefined && (
        <p class="wish-lift">
          <strong>Lift first, to level {level_words(shortfall.lift_first)}.</strong>
        </p>
      )}
      {shortfall && <p>{shortfall.words}</p>}
    </div>
  );
}
