// One swatch of the plan: what to weigh, its clock, its reading, and how well it fits.
import { useEffect, useState } from "preact/hooks";
import type { CalibrationReply, Product } from "../../api/shapes";
import { lab_of } from "../../bench/requests";
import { difference, hex_of_lab } from "../../colour";
import { strength } from "../../device/settings";
import { useTyped } from "../../device/typed";
import { Choice } from "../../parts/choice";
import { LabField } from "../../parts/number";
import { level_words } from "../../parts/words";
import { tube_words } from "../../shelf/shelf";
import {
  developer_of,
  keep_reading,
  minutes_on,
  most_minutes,
  type Planned,
  paint,
  rinse,
  type Source,
} from "../../swatches/swatches";

type Three = [string, string, string];
type Fit = CalibrationReply["fits"][number];

const SOURCES = [
  ["instrument", "an instrument"],
  ["eye", "by eye, beside a drawn colour"],
] as const;
const UNREAD = {
  painted: ["", "", ""] as Three,
  bare: ["", "", ""] as Three,
  source: "instrument" as Source,
};
const NO_FAULTS = [undefined, undefined, undefined];

interface PlannedRowProps {
  planned: Planned;
  products: readonly Product[];
  fit: Fit | undefined;
  is_next: boolean;
}

/** Returns the row. */
export function PlannedRow({ planned, products, fit, is_next }: PlannedRowProps) {
  const { row, swatch } = planned;
  const { mix, hair, code } = row;
  const level = hair.level == null ? "measured" : level_words(hair.level);
  return (
    <li class="swatch-row" data-next={is_next}>
      <div class="swatch-head">
        <h3>
          <span class="swatch-code">{code}</span> Hair {level}, {mix.minutes} min
        </h3>
        {is_next && <p class="swatch-next">Paint this next</p>}
      </div>
      <ul class="swatch-bowl">
        {mix.parts.map(({ product, grams }) => {
          const known = products.find(({ id }) => id === product);
          return (
            <li key={product}>
              {known ? tube_words(known) : "a product no longer on the shelf"}, {grams_words(grams)}
            </li>
          );
        })}
        <Developer mix={mix} products={products} />
      </ul>
      <Colours planned={planned} fit={fit} />
      {fit && <p class={fit.odd ? "fault" : "quiet"}>{fit.words}</p>}
      {swatch ? (
        <details>
          <summary>Read it again</summary>
          <Reading planned={planned} />
        </details>
      ) : (
        <ToDo planned={planned} products={products} />
      )}
    </li>
  );
}

/** The developer to weigh; nothing for a mix without one. */
function Developer({
  mix,
  products,
}: {
  mix: Planned["row"]["mix"];
  products: readonly Product[];
}) {
  const { percent, grams } = developer_of(mix, products);
  if (grams === 0) return null;
  return (
    <li>
      Developer {strength(percent)}, {grams_words(grams)}
    </li>
  );
}

function grams_words(grams: number): string {
  return `${Math.round(grams * 10) / 10} g`;
}

/** The three colours, touching: as planned, as painted, as learnt. */
function Colours({ planned: { row, swatch }, fit }: { planned: Planned; fit: Fit | undefined }) {
  const painted = swatch?.after?.lab;
  const learnt = fit?.predicted.lab as [number, number, number] | undefined;
  const far = (lab: readonly [number, number, number] | undefined) =>
    lab && painted ? difference(lab, painted).toFixed(1) : "";
  return (
    <div class="surround swatch-colours">
      <div class="swatch-patches">
        <Third lab={row.expected} words="as planned" far={far(row.expected)} />
        <Third lab={painted} words={painted ? "painted" : "to paint"} far="" />
        {learnt && <Third lab={learnt} words="learnt" far={far(learnt)} />}
      </div>
    </div>
  );
}

interface ThirdProps {
  lab: readonly [number, number, number] | undefined;
  words: string;
  far: string;
}

function Third({ lab, words, far }: ThirdProps) {
  return (
    <figure class="swatch-third">
      <div
        class={lab ? "swatch-patch" : "swatch-patch swatch-empty"}
        data-hex={lab && hex_of_lab(lab)}
        style={lab && { backgroundColor: hex_of_lab(lab) }}
      />
      <figcaption>
        {words}
        {far && `, ${far} off`}
      </figcaption>
    </figure>
  );
}

/** The next act: paint, rinse, or read. */
function ToDo({ planned, products }: Pick<PlannedRowProps, "planned" | "products">) {
  const { row, on_ms, rinsed_ms } = planned;
  if (on_ms === undefined) {
    return (
      <div class="swatch-acts">
        <button type="button" onClick={() => void paint(planned)}>
          Painted: start its clock
        </button>
        <details>
          <summary>Painted before: type its reading</summary>
          <Reading planned={planned} />
        </details>
      </div>
    );
  }
  if (rinsed_ms === undefined) {
    return (
      <div class="swatch-acts">
        <MinutesOn on_ms={on_ms} minutes={row.mix.minutes} />
        <button type="button" onClick={() => void rinse(planned)}>
          Rinsed
        </button>
      </div>
    );
  }
  const most = most_minutes(row.mix, products);
  const minutes = minutes_on(planned);
  if (minutes > most) {
    return (
      <div class="swatch-acts">
        <p class="fault">
          It was on for {minutes} min, and its leaflet allows {most}. It would teach a wrong speed.
          Paint it again.
        </p>
        <button type="button" onClick={() => void paint(planned)}>
          Painted again: start its clock
        </button>
      </div>
    );
  }
  return (
    <>
      <p>Rinsed after {minutes} min. Dry it before you read it.</p>
      <Reading planned={planned} />
    </>
  );
}

/** How long it has been on; drawn anew each second, and nothing else with it. */
function MinutesOn({ on_ms, minutes }: { on_ms: number; minutes: number }) {
  const [now_ms, tick] = useState(Date.now());
  useEffect(() => {
    const clock = setInterval(() => tick(Date.now()), 1000);
    return () => clearInterval(clock);
  }, []);
  const on = Math.max(0, Math.floor((now_ms - on_ms) / 60_000));
  return (
    <p class="swatch-clock" role="timer">
      {on < minutes ? `${on} of ${minutes} min` : `Rinse now: ${on} min`}
    </p>
  );
}

function Reading({ planned }: { planned: Planned }) {
  const { plan, row } = planned;
  const [typed, put, forget] = useTyped(`swatch ${row.code}`, plan.id, UNREAD);
  const lab = lab_of(typed.painted);
  const bare = lab_of(typed.bare);
  const half_bare = !bare && typed.bare.some(Boolean);
  const keep = async () => {
    if (!lab || half_bare) return;
    await keep_reading(planned, { lab, bare, source: typed.source });
    forget();
  };
  return (
    <div class="stack swatch-reading">
      <Choice
        legend="Read with"
        options={SOURCES}
        value={typed.source}
        onChoose={(source) => put({ ...typed, source })}
      />
      <LabField
        legend="Painted end, dry (D65, 10°)"
        value={typed.painted}
        onType={(painted) => put({ ...typed, painted })}
        faults={NO_FAULTS}
      />
      <LabField
        legend="Bare end, dry, if you read it"
        value={typed.bare}
        onType={(bare_now) => put({ ...typed, bare: bare_now })}
        faults={NO_FAULTS}
      />
      {half_bare && <p class="fault">Type all three numbers of the bare end, or none.</p>}
      <button type="button" disabled={!lab || half_bare} onClick={() => void keep()}>
        Keep this reading
      </button>
    </div>
  );
}
