// The rest of a wish: a second word, how close is close enough, or a measured colour.

import { wish_entry } from "../../bench/entries";
import { fault_at } from "../../engine/faults";
import { Choice } from "../../parts/choice";
import { LabField } from "../../parts/number";
import { TONES } from "../../references";
import { change, choose_second } from "./actions";

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
              legend={`${tone[0]}, with a little`}
              options={[
                [tone[0], "nothing else"] as const,
                ...TONES.filter((word) => word !== tone[0]).map((word) => [word, word] as const),
              ]}
              value={tone[1] ?? tone[0]}
              onChoose={choose_second}
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
