// Other hair on the same head with the same mix: the ends, or hair between the foils.

import { hair_entry } from "../../bench/entries";
import { fault_at } from "../../engine/faults";
import { Choice } from "../../parts/choice";
import { LevelStepper } from "../../parts/levels/stepper";
import { Patch } from "../../parts/patch";
import { Stepper } from "../../parts/stepper";
import type { OtherHairEntry } from "../../records/entered";
import { bare_look } from "../../references";
import { add_other, change_other, remove_other, share_left } from "./actions";
import { POROSITY_OPTIONS } from "./shown";
import "./style.css";

const STEP = 0.1;
const MOST_OTHERS = 6;

/** Returns what is one tap away. */
export function Others() {
  const { also } = hair_entry.value;
  const room = also.length < MOST_OTHERS && share_left.value > 0.35;
  return (
    <div class="stack">
      {also.map((other, place) => (
        <Other key={place} other={other} place={place} />
      ))}
      {room && (
        <div class="hair-add">
          <button type="button" onClick={() => add_other("ends")}>
            Add the ends
          </button>
          <button type="button" onClick={() => add_other("between foils")}>
            Add between foils
          </button>
        </div>
      )}
    </div>
  );
}

function Other({ other, place }: { other: OtherHairEntry; place: number }) {
  const { name, share, level, warmth, porosity, lifted } = other;
  const put = (fields: Partial<OtherHairEntry>) => change_other(place, fields);
  const look = bare_look(level, warmth, lifted);
  const hundredths = Math.round(share * 100);
  return (
    <div class="hair-item">
      <div class="surround">
        <Patch
          label={`${name}, ${hair_entry.value.seen}`}
          hex={look?.[hair_entry.value.seen]}
          {...(look && { words: look.words })}
        />
      </div>
      <div class="steppers">
        <LevelStepper
          label={`Level of ${name}`}
          level={level}
          onLevel={(value) => put({ level: value })}
          fault={fault_at(`/hair/also/${place}/hair`)}
        />
        <Stepper
          label="Share of the head"
          words={`${hundredths} %`}
          less="a smaller share"
          more="a larger share"
          onLess={hundredths > 10 ? () => put({ share: (hundredths - 10) / 100 }) : undefined}
          onMore={
            share_left.value > STEP + 0.05
              ? () => put({ share: (hundredths + 10) / 100 })
              : undefined
          }
          fault={fault_at(`/hair/also/${place}/share`)}
        />
      </div>
      <Choice
        legend={`Porosity of ${name}`}
        options={POROSITY_OPTIONS}
        value={porosity}
        onChoose={(value) => put({ porosity: value })}
      />
      <Choice
        legend={`${name}: before this mix`}
        options={[
          [true, "lifted"],
          [false, "left natural"],
        ]}
        value={lifted}
        onChoose={(value) => put({ lifted: value })}
      />
      <button type="button" onClick={() => remove_other(place)}>
        Take {name} away
      </button>
    </div>
  );
}
