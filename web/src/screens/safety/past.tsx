// What was done to the hair before: everything that applies, and how long ago for what wears off.
import type { HairPast as Past } from "../../api/shapes";
import { useTyped } from "../../device/typed";
import { rfc3339 } from "../../device/when";
import { Choice } from "../../parts/choice";

type What = Past["what"];

const DONE: readonly (readonly [What, string])[] = [
  ["permanent_colour", "permanent colour"],
  ["lightened", "lightened"],
  ["perm", "permed"],
  ["hydroxide_relaxer", "relaxed with lye, no-lye"],
  ["thio_relaxer", "relaxed with thio"],
  ["plant_henna", "pure plant henna"],
  ["compound_henna", "henna with metal salts"],
  ["metallic", "metallic colour"],
  ["progressive_restorer", "grey restorer, day by day"],
  ["unknown", "something unknown"],
];
const WEARS = new Set<What>(["lightened", "perm", "hydroxide_relaxer", "thio_relaxer"]);
const DAYS_MS = 86_400_000;

interface HairPastProps {
  /** The service that the half-answered list is kept with. */
  about: string;
  onDone: (past: Past[], words: string) => void;
}

/** Returns the list; the marked entries go to `onDone` with their words. */
export function HairPast({ about, onDone }: HairPastProps) {
  const nothing = { marked: [] as What[], days: "" };
  const [typed, put, forget] = useTyped("past", about, nothing);
  const { marked } = typed;
  const days = typed.days === "" ? undefined : Number(typed.days);
  const done = (past: Past[], words: string) => {
    onDone(past, words);
    forget();
  };
  const asks_when = marked.some((what) => WEARS.has(what));
  const on = days === undefined ? undefined : rfc3339(Date.now() - days * DAYS_MS).slice(0, 10);
  const words = DONE.filter(([what]) => marked.includes(what)).map(([, word]) => word);
  const toggle = (what: What) => {
    const now = marked.includes(what) ? marked.filter((one) => one !== what) : [...marked, what];
    put({ ...typed, marked: now });
  };
  return (
    <>
      {marked.length === 0 && (
        <button type="button" class="safety-answer" onClick={() => done([], "Nothing of these")}>
          Nothing of these
        </button>
      )}
      <div class="safety-marks">
        {DONE.map(([what, word]) => (
          <button
            key={what}
            type="button"
            aria-pressed={marked.includes(what)}
            onClick={() => toggle(what)}
          >
            {word}
          </button>
        ))}
      </div>
      {asks_when && (
        <Choice
          legend="The latest of these"
          options={[
            [0, "less than 2 weeks ago"],
            [14, "longer ago"],
          ]}
          value={days}
          onChoose={(ago) => put({ ...typed, days: String(ago) })}
        />
      )}
      {marked.length > 0 && (
        <button
          type="button"
          class="safety-answer"
          disabled={asks_when && !on}
          onClick={() =>
            done(
              marked.map((what) => ({ what, ...(on && WEARS.has(what) && { on }) }) as Past),
              words.join(", "),
            )
          }
        >
          That is all
        </button>
      )}
    </>
  );
}
