// The hair in front of you: level and warmth by looking, porosity by word.
import { fault_at } from "../../engine/faults";
import { bare_hair } from "../../engine/lines";
import { Choice } from "../../parts/choice";
import { LevelChart } from "../../parts/levels";
import { Stopped } from "../../parts/notice";
import { Patch } from "../../parts/patch";
import { Stepper } from "../../parts/stepper";
import { level_words } from "../../parts/words";
import { hair_entry } from "../../records/entries";
import { screen_is_set } from "../../records/settings";
import {
  beside,
  change,
  LEVELS,
  live_look,
  POROSITY_OPTIONS,
  WARMTH_WORDS,
  WARMTHS,
} from "./actions";
import { More } from "./more";
import { Others } from "./others";
import "./style.css";

/** Returns the section "Hair", open. */
export function Hair() {
  const { seen, level, warmth, lifted, porosity, by_reading } = hair_entry.value;
  const look = live_look.value;
  const bare = bare_hair.asked.value;
  return (
    <>
      <p>Hold the phone beside the hair and tap what matches, as it is now.</p>
      <Choice
        legend="It is"
        options={[
          ["dry", "dry"],
          ["wet", "wet, at the basin"],
        ]}
        value={seen}
        onChoose={(now) => change({ seen: now })}
      />
      <div class="surround hair-match">
        <div class="live">
          <Patch
            label={seen === "wet" ? "this hair, wet" : "this hair, dry"}
            hex={look?.[seen]}
            words={look ? (seen === "wet" ? `${look.words} when dry` : look.words) : " "}
            missing={by_reading ? "type the reading below" : "waiting for the server"}
          />
        </div>
        {!by_reading && (
          <LevelChart
            level={level}
            warmth={warmth}
            lifted={lifted}
            seen={seen}
            onChoose={(to, warm) => change({ level: to, warmth: warm })}
          />
        )}
      </div>
      {bare.state === "failed" && (
        <Stopped sentence={bare.sentence} onAgain={() => bare_hair.again()} />
      )}
      {!by_reading && <Between level={level} warmth={warmth} />}
      <Choice
        legend="Porosity"
        options={POROSITY_OPTIONS}
        value={porosity}
        onChoose={(value) => change({ porosity: value })}
        fault={fault_at("/hair/porosity")}
      />
      <ScreenFirst />
      <More />
      <Others />
    </>
  );
}

/** Asked once on a phone: a tinted screen shows every patch wrong. */
function ScreenFirst() {
  if (screen_is_set.value) return null;
  return (
    <div class="hair-screen">
      <p>
        You judge colour on this screen. Turn night tint, auto-tone and dimming off, and the
        brightness up.
      </p>
      <button
        type="button"
        onClick={() => {
          screen_is_set.value = true;
        }}
      >
        They are off
      </button>
    </div>
  );
}

function Between({ level, warmth }: { level: number; warmth: number }) {
  const darker = beside(LEVELS, level, -1);
  const lighter = beside(LEVELS, level, 1);
  const cooler = beside(WARMTHS, warmth, -1);
  const warmer = beside(WARMTHS, warmth, 1);
  return (
    <div class="steppers">
      <Stepper
        label="Level"
        words={level_words(level)}
        less="half a level deeper"
        more="half a level lighter"
        onLess={darker === undefined ? undefined : () => change({ level: darker })}
        onMore={lighter === undefined ? undefined : () => change({ level: lighter })}
        fault={fault_at("/hair/level")}
      />
      <Stepper
        label="Undertone"
        words={WARMTH_WORDS[WARMTHS.indexOf(warmth)] ?? "between"}
        less="less warm"
        more="warmer"
        onLess={cooler === undefined ? undefined : () => change({ warmth: cooler })}
        onMore={warmer === undefined ? undefined : () => change({ warmth: warmer })}
        fault={fault_at("/hair/warmth")}
      />
    </div>
  );
}
