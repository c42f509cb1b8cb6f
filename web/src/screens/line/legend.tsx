// The meaning of each piece of this line's codes: said once, corrected here.
import { Choice } from "../../parts/choice";
import type { Entity } from "../../records/shapes";
import { change } from "../../records/write";
import { PRODUCT_TONES } from "../../shelf/shade_codes";

const TONES = PRODUCT_TONES.map((tone) => [tone, tone] as const);

/** Returns the legend, each piece with its word. */
export function Legend({ line }: { line: Entity<"line"> }) {
  const legend = Object.entries(line.legend ?? {});
  if (legend.length === 0) return null;
  return (
    <details>
      <summary>Legend of its codes</summary>
      <div class="stack">
        <p>Changes count for new shades. Shades on the shelf stay the same.</p>
        {legend.map(([piece, words]) => (
          <Choice
            key={piece}
            legend={`“${piece}” means`}
            options={TONES}
            value={words[0]}
            onChoose={(word) =>
              void change(
                "line",
                line.id,
                { legend: { ...line.legend, [piece]: [word] } },
                `${line.name} ${piece} means ${word}.`,
              )
            }
          />
        ))}
      </div>
    </details>
  );
}
