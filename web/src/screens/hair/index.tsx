// The hair in front of you: level and warmth by looking, porosity by word.

import { hair_entry } from "../../bench/entries";
import { screen_is_set } from "../../device/settings";
import { fault_at } from "../../engine/faults";
import { bare_hair } from "../../engine/questions";
import { Choice } from "../../parts/choice";
import { later } from "../../parts/later";
import { LevelChart } from "../../parts/levels";
import { LevelStepper } from "../../parts/levels/stepper";
import { Stopped } from "../../parts/notice";
import { Patch } from "../../parts/patch";
import { ScaleStepper } from "../../parts/stepper/scale";
import { WARMTHS } from "../../references";
import { change, WARMTH_WORDS } from "./actions";
import { live_look, POROSITY_OPTIONS } from "./shown";
import "./style.css";

const More = later<object>(() => import("./more").then((part) => part.More), { after: true });
const Others = later<object>(() => import("./others").then((part) => part.Others), {
  after: true,
});

/** Returns the section "Hair", open. */
export function Hair() {
  const { seen, level, warmth, lifted, porosity, by_reading, also } = hair_entry.value;
  const look = live_look.value;
  const bare = bare_hair.asked.value;
  return (
    <>
      <p>Tap the colour that matches the hair now.</p>
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
      <details class="hair-more" open={by_reading || undefined}>
        <summary>More about this hair</summary>
        <More />
      </details>
      <details class="hair-more" open={also.length > 0 || undefined}>
        <summary>Other hair, same mix</summary>
        <Others />
      </details>
    </>
  );
}

/** Asked once on a phone: a tinted screen shows every patch wrong. */
function ScreenFirst() {
  if (screen_is_set.value) return null;
  return (
    <div class="hair-screen">
      <p>Turn night tint, auto-tone and dimming off, and brightness up.</p>
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
  return (
    <div class="steppers">
      <LevelStepper
        label="Level"
        level={level}
        onLevel={(value) => change({ level: value })}
        fault={fault_at("/hair/level")}
      />
      <ScaleStepper
        label="Undertone"
        words={WARMTH_WORDS[WARMTHS.indexOf(warmth)] ?? "between"}
        less="less warm"
        more="warmer"
        scale={WARMTHS}
        value={warmth}
        onValue={(value) => change({ warmth: value })}
        fault={fault_at("/hair/warmth")}
      />
    </div>
  );
}
