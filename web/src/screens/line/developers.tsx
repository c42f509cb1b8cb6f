// The developers a line's leaflet allows, in percent; a volume typed for a percent is caught.

import { strength } from "../../device/settings";
import { useTyped } from "../../device/typed";
import { TextField } from "../../parts/text";
import type { Entity } from "../../records/shapes";
import { change } from "../../records/write";
import { peroxide_fault } from "../../shelf/shade_codes";

const USUAL = [1.5, 1.9, 3, 4, 6, 9, 12] as const;
const MOST = 12;

/** Returns the strengths as buttons that stay pressed, and a field for another. */
export function Developers({ line }: { line: Entity<"line"> }) {
  const [typed, type] = useTyped("developer", line.id, "");
  const chosen = line.developer_percent ?? [];
  const all = [...new Set([...USUAL, ...chosen])].sort((a, b) => a - b);
  const fault = typed ? peroxide_fault(typed) : "";
  const toggle = (percent: number) =>
    void change(
      "line",
      line.id,
      {
        developer_percent: chosen.includes(percent)
          ? chosen.filter((other) => other !== percent)
          : [...chosen, percent].sort((a, b) => a - b).slice(0, MOST),
      },
      `${strength(percent)} developer: ${chosen.includes(percent) ? "not allowed" : "allowed"} by the leaflet.`,
    );
  const add = () => {
    const percent = Number(typed.replace(",", "."));
    if (!chosen.includes(percent)) toggle(percent);
    type("");
  };
  return (
    <fieldset class="developers">
      <legend>Developers its leaflet allows</legend>
      <div class="developer-options">
        {all.map((percent) => (
          <button
            key={percent}
            type="button"
            aria-pressed={chosen.includes(percent)}
            onClick={() => toggle(percent)}
          >
            {strength(percent)}
          </button>
        ))}
      </div>
      <details>
        <summary>Another strength</summary>
        <div class="stack">
          <TextField
            label="Peroxide, percent"
            inputMode="decimal"
            value={typed}
            onType={type}
            fault={fault}
            mostLength={6}
          />
          <button type="button" disabled={!typed || Boolean(fault)} onClick={add}>
            Add this strength
          </button>
        </div>
      </details>
    </fieldset>
  );
}
