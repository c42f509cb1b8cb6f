// Which tubes, on which hair, how many: then the swatches that would teach most.
import { useEffect } from "preact/hooks";
import type { Product } from "../../api/shapes";
import { useTyped } from "../../device/typed";
import { waiting_words } from "../../engine/where";
import { Choice } from "../../parts/choice";
import { Ticks } from "../../parts/choice/ticks";
import { Stopped, Working } from "../../parts/notice";
import { level_words } from "../../parts/words";
import type { Entity } from "../../records/shapes";
import { is_clear } from "../../shelf/shade_codes";
import { keep_plan, question_of } from "../../swatches/swatches";
import { planning } from "../../swatches/taught";

const LEVELS = [5, 6, 7, 8, 9, 10].map((level) => [`${level}`, level_words(level)] as const);
const COUNTS = [4, 8, 12, 16].map((count) => [count, `${count}`] as const);
const NOTHING = { tubes: [] as string[], levels: [] as string[], count: 8 };
/** With few tubes nobody has to choose. */
const FEW = 3;

interface PlanFormProps {
  line: Entity<"line">;
  products: readonly Product[];
  is_first: boolean;
}

/** Returns the form; under one tap once there is a plan. */
export function PlanForm({ line, products, is_first }: PlanFormProps) {
  useEffect(() => () => planning.drop(), [line.id]);
  const form = <Form line={line} products={products} />;
  if (is_first) return form;
  return (
    <details>
      <summary>Plan more swatches</summary>
      {form}
    </details>
  );
}

function Form({ line, products }: Omit<PlanFormProps, "is_first">) {
  const [entered, put, forget] = useTyped("swatch plan", line.id, NOTHING);
  const coloured = products.filter(({ tone }) => !is_clear(tone));
  const clears = products.filter(({ tone }) => is_clear(tone));
  const few = coloured.length <= FEW;
  const tubes = few ? coloured : coloured.filter(({ id }) => entered.tubes.includes(id));
  const missing = !tubes.length
    ? "Tick the tubes you use most."
    : !entered.levels.length && "Tick the hair you have.";
  const plan = () =>
    planning.put({
      products: [...tubes, ...clears],
      swatches: question_of(line)?.swatches ?? [],
      levels: entered.levels.map(Number).sort((a, b) => a - b),
      count: entered.count,
    });
  const asked = planning.asked.value;
  useEffect(() => {
    if (asked.state !== "answered") return;
    // Read once: drawn again, it would be kept twice.
    const { reply } = asked.answer;
    planning.drop();
    void keep_plan(line, reply).then(forget);
  }, [asked]);
  return (
    <div class="stack">
      <h3>Plan swatches</h3>
      {!few && (
        <Ticks
          legend="Tubes to learn"
          options={coloured.map(({ id, name }) => [id, name] as const)}
          chosen={entered.tubes}
          onChange={(chosen) => put({ ...entered, tubes: chosen })}
        />
      )}
      <Ticks
        legend="Swatch hair you have, by level"
        options={LEVELS}
        chosen={entered.levels}
        onChange={(levels) => put({ ...entered, levels })}
      />
      <Choice
        legend="How many swatches"
        options={COUNTS}
        value={entered.count}
        onChoose={(count) => put({ ...entered, count })}
        note="Eight teach most of what a tube does. Each takes 12 g of colour."
      />
      {asked.state === "working" && (
        <Working what="Choosing what teaches most…" waiting={waiting_words.value} />
      )}
      {asked.state === "failed" && (
        <Stopped sentence={asked.sentence} onAgain={() => planning.again()}>
          {asked.faults.map(({ pointer, message }) => (
            <p key={pointer}>{message}</p>
          ))}
        </Stopped>
      )}
      {missing && <p class="quiet">{missing}</p>}
      <button
        type="button"
        class="plan-swatches"
        disabled={Boolean(missing) || asked.state === "working"}
        onClick={plan}
      >
        Plan {entered.count} swatches
      </button>
      <p class="quiet">
        Swatch hair only, never on skin. Wear gloves, and follow the maker’s leaflet.
      </p>
    </div>
  );
}
