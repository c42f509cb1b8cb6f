// The chart of bare hair: a row a level, a column a warmth, every patch on the grey surround.
// One look and one tap settle both.
import { useId, useState } from "preact/hooks";
import { bare_look, LEVELS } from "../../references";
import { level_words } from "../words";
import "./style.css";

const COLUMNS = [
  [0.65, "less warm"],
  [1, "usual"],
  [1.55, "warmer"],
] as const;

const ROWS = LEVELS.filter((level) => Number.isInteger(level) || level === 10.5).toReversed();
const DEEPEST_AT_FIRST = 6;

interface LevelChartProps {
  level: number;
  warmth: number;
  lifted: boolean;
  seen: "dry" | "wet";
  onChoose: (level: number, warmth: number) => void;
}

/** Returns the chart; arrow keys move over it in both directions. */
export function LevelChart({ level, warmth, lifted, seen, onChoose }: LevelChartProps) {
  const id = useId();
  const [whole, setWhole] = useState(false);
  const all = whole || level < DEEPEST_AT_FIRST;
  const rows = ROWS.filter((row) => all || row >= DEEPEST_AT_FIRST);

  function move(event: KeyboardEvent, row: number, column: number): void {
    const down = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    const across = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!down && !across) return;
    event.preventDefault();
    const to = rows[row + (down ?? 0)];
    const warm = COLUMNS[column + (across ?? 0)]?.[0];
    if (to === undefined || warm === undefined) return;
    onChoose(to, warm);
    document.getElementById(`${id}-${to}-${warm}`)?.focus();
  }

  // One patch takes the Tab key: the chosen one, or the first if the choice is between two.
  const chosen = rows.includes(level) && COLUMNS.some(([warm]) => warm === warmth);
  return (
    <div class="levels" role="radiogroup" aria-label="Level and warmth">
      <div class="levels-head" aria-hidden="true">
        {COLUMNS.map(([, word]) => (
          <span key={word}>{word}</span>
        ))}
      </div>
      {rows.map((row, at) => (
        <div key={row} class="levels-row">
          <span class="levels-name" aria-hidden="true">
            {level_words(row)}
          </span>
          {COLUMNS.map(([warm, word], column) => {
            const look = bare_look(row, warm, lifted);
            const checked = row === level && warm === warmth;
            return (
              <button
                key={warm}
                id={`${id}-${row}-${warm}`}
                type="button"
                role="radio"
                class="levels-patch"
                aria-checked={checked}
                aria-label={`${look?.words ?? `level ${level_words(row)}`}, ${word}`}
                tabIndex={checked || (!chosen && at === 0 && column === 1) ? 0 : -1}
                data-hex={look?.[seen]}
                style={{ backgroundColor: look?.[seen] ?? "transparent" }}
                onClick={() => onChoose(row, warm)}
                onKeyDown={(event) => move(event, at, column)}
              />
            );
          })}
        </div>
      ))}
      {!all && (
        <button type="button" class="levels-more" onClick={() => setWhole(true)}>
          Deeper: levels 5 to 1
        </button>
      )}
    </div>
  );
}
