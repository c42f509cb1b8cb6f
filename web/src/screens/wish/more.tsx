// The rest of a wish: a second tone word, how close is close enough, or a measured colour.

import { wish_entry } from "../../bench/entries";
import { fault_at } from "../../engine/faults";
import { Choice } from "../../parts/choice";
import { LabField } from "../../parts/number";
import { TONES } from "../../references";
import { change, choose_second, tone_refused } from "./actions";
import { LEANS } from "./second_tone";

/** Returns the second tone words in reach of one tap: cooler, warmer, rosier. */
export function Leans() {
  const [first = "", second = ""] = wish_entry.value.tone;
  const leans = LEANS[first] ?? [];
  const known = !second || leans.some(([, word]) => word === second);
  return (
    <Choice
      legend={`This ${first}`}
      options={[
        ["", "as it is"] as const,
        ...leans.map(([way, word]) => [word, `${way}, with ${word}`] as const),
        ...(known ? [] : [[second, `with ${second}`] as const]),
      ]}
      value={second}
      onChoose={choose_second}
      fault={tone_refused.value?.words}
    />
  );
}

/** Returns the reading, if the wish is one, and the part one tap away. */
export function More() {
  const { by_reading, lab, tone, tolerance } = wish_entry.value;
  return (
    <>
      {by_reading && (
        <LabField
          legend="Reading of the dry colour wanted"
          value={lab}
          onType={(value) => change({ lab: value })}
          faults={[0, 1, 2].map((at) => fault_at(`/wish/lab/${at}`))}
        />
      )}
      <details class="wish-more">
        <summary>More about this wish</summary>
        <div class="stack">
          {!by_reading && tone[0] && (
            <Choice
              legend={`${tone[0]}, with any other tone`}
              options={[
                ["", "nothing else"] as const,
                ...TONES.filter((word) => word !== tone[0]).map((word) => [word, word] as const),
              ]}
              value={tone[1] ?? ""}
              onChoose={choose_second}
              fault={tone_refused.value?.words}
            />
          )}
          <Choice
            legend="Close enough is"
            options={[
              [2, "very close"],
              [3, "close"],
              [5, "roughly"],
            ]}
            value={tolerance}
            onChoose={(value) => change({ tolerance: value })}
            note={`A result within ${tolerance} of the wish counts as landed (ΔE00).`}
            fault={fault_at("/wish/tolerance")}
          />
        </div>
      </details>
    </>
  );
}
