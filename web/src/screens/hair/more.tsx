// More about some heads: how damp, how white, natural, measured, already coloured.

import { hair_entry } from "../../bench/entries";
import { fault_at } from "../../engine/faults";
import { Choice } from "../../parts/choice";
import { LabField } from "../../parts/number";
import { Stepper } from "../../parts/stepper";
import { product_words, shelf } from "../../shelf/shelf";
import { change } from "./actions";
import "./style.css";

// The engine's usual white hair, and its range for resistant hair: an assumption, no published
// source.
const WHITE_UPTAKES = [
  [1, "as usual"],
  [0.75, "less: resistant"],
  [0.6, "very resistant"],
] as const;

/** Returns what is one tap away. */
export function More() {
  const { damp, white_share, white_uptake, lifted, by_reading, reading } = hair_entry.value;
  return (
    <div class="stack">
      <Choice
        legend="When the mix goes on"
        options={[
          [0, "dry"],
          [0.6, "towel-damp"],
          [0.9, "wet"],
        ]}
        value={damp}
        onChoose={(value) => change({ damp: value })}
        fault={fault_at("/hair/damp")}
      />
      <Choice
        legend="Before this mix it was"
        options={[
          [true, "lifted"],
          [false, "left natural"],
        ]}
        value={lifted}
        onChoose={(value) => change({ lifted: value })}
      />
      <Stepper
        label="White hair"
        words={white_share === 0 ? "none" : `${Math.round(white_share * 100)} %`}
        less="less white"
        more="more white"
        onLess={
          white_share > 0 ? () => change({ white_share: tenth(white_share - 0.1) }) : undefined
        }
        onMore={
          white_share < 1 ? () => change({ white_share: tenth(white_share + 0.1) }) : undefined
        }
        fault={fault_at("/hair/white_share")}
      />
      {white_share > 0 && (
        <Choice
          legend="Its white hair takes colour"
          options={WHITE_UPTAKES}
          value={white_uptake}
          onChoose={(value) => change({ white_uptake: value })}
          note="Resistant white is coarse and shiny. Colour stays on it less."
          fault={fault_at("/hair/white_uptake")}
        />
      )}
      <AlreadyOn />
      <Choice
        legend="Level and undertone"
        options={[
          [false, "by looking"],
          [true, "by a reading"],
        ]}
        value={by_reading}
        onChoose={(value) => change({ by_reading: value })}
        note="Take CIELAB for D65 and the 10° observer from an instrument."
        fault={fault_at("/hair/reading", "exactly")}
      />
      {by_reading && (
        <>
          <LabField
            legend="Reading of the bare hair"
            value={reading.lab}
            onType={(lab) => change({ reading: { ...reading, lab } })}
            faults={[0, 1, 2].map((at) => fault_at(`/hair/reading/lab/${at}`))}
          />
          <Choice
            legend="Measured"
            options={[
              ["dry", "dry"],
              ["damp", "damp"],
              ["wet", "wet"],
            ]}
            value={reading.state}
            onChoose={(state) => change({ reading: { ...reading, state } })}
          />
        </>
      )}
    </div>
  );
}

function AlreadyOn() {
  const { already_on, by_reading } = hair_entry.value;
  const put = (list: typeof already_on) => change({ already_on: list });
  if (by_reading) {
    return <p class="quiet">A reading already includes colour on the hair.</p>;
  }
  return (
    <div class="hair-list">
      <h3>Already on this hair</h3>
      {already_on.map(({ product, minutes }, place) => (
        <div key={place} class="hair-item">
          <p>
            <strong>{product_words(product)}</strong>
          </p>
          <Stepper
            label="Left on"
            words={`${minutes} min`}
            less="a minute less"
            more="a minute more"
            onLess={
              minutes > 1
                ? () => put(already_on.with(place, { product, minutes: minutes - 1 }))
                : undefined
            }
            onMore={
              minutes < 120
                ? () => put(already_on.with(place, { product, minutes: minutes + 1 }))
                : undefined
            }
            fault={fault_at(`/hair/already_on/${place}`)}
          />
          <button type="button" onClick={() => put(already_on.toSpliced(place, 1))}>
            Remove
          </button>
        </div>
      ))}
      {already_on.length < 8 && (
        <label class="hair-pick">
          <span>Add earlier colour, oldest first</span>
          <select
            value=""
            onChange={(event) => {
              const product = event.currentTarget.value;
              if (product) put([...already_on, { product, minutes: 3 }]);
              event.currentTarget.value = "";
            }}
          >
            <option value="">from your shelf</option>
            {shelf.value.products.map(({ id }) => (
              <option key={id} value={id}>
                {product_words(id)}
              </option>
            ))}
          </select>
        </label>
      )}
    </div>
  );
}

function tenth(share: number): number {
  return Math.round(share * 10) / 10;
}
