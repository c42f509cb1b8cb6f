// Kept formulas, found by name, tone, client, or the colour itself.
import { signal } from "@preact/signals";
import { lab_of } from "../../bench/requests";
import { type Lab, lab_of_hex } from "../../colour";
import { weight } from "../../device/settings";
import { LevelStepper } from "../../parts/levels/stepper";
import { LabField } from "../../parts/number";
import { Patch } from "../../parts/patch";
import { ShowMore } from "../../parts/rows";
import { TextField } from "../../parts/text";
import { ToneChart } from "../../parts/tones";
import { chance_words } from "../../parts/words";
import { address_of } from "../../place";
import { all, one, records_ready } from "../../records/read";
import { TONES, wish_hex } from "../../references";
import { type FoundFormula, formulas_found } from "../../salon/formulas";
import { mix_words } from "../../shelf/shelf";
import "./style.css";

const typed = signal("");
const level = signal(9);
const tone = signal("");
const reading = signal<[string, string, string]>(["", "", ""]);
const MORE = 30;
const shown_most = signal(MORE);

/** Returns the list, with its two ways to search. */
export function Formulas() {
  const count = all("formula").value.length;
  const near = colour_looked_for();
  const found = formulas_found(typed.value, near);
  return (
    <section class="stack formulas" aria-labelledby="formulas-heading">
      <h2 id="formulas-heading">Formulas</h2>
      {!records_ready.value && <p class="quiet">Opening your records…</p>}
      {records_ready.value && count === 0 && (
        <p>
          No formulas yet. Keep one from a visit’s result or{" "}
          <a href={address_of("try")}>a mix you try</a>.
        </p>
      )}
      {count > 0 && (
        <>
          <TextField
            label="Find a name, tone, client or product"
            value={typed.value}
            onType={(text) => {
              typed.value = text;
              shown_most.value = MORE;
            }}
          />
          <Near />
          <p class="quiet" role="status">
            {found.length} of {count}
            {near ? ", nearest colour first" : ", newest first"}
          </p>
        </>
      )}
      <ul class="surround found" hidden={found.length === 0}>
        {found.slice(0, shown_most.value).map((one) => (
          <Row key={one.formula.id} found={one} />
        ))}
      </ul>
      <ShowMore
        count={found.length}
        shown={shown_most.value}
        onMore={() => {
          shown_most.value += MORE;
        }}
      />
    </section>
  );
}

function colour_looked_for(): Lab | undefined {
  const read = lab_of(reading.value);
  if (read) return read;
  const hex = tone.value && wish_hex(level.value, tone.value);
  return hex ? lab_of_hex(hex) : undefined;
}

/** The colour to search for: a drawn one, or an instrument's reading. */
function Near() {
  return (
    <details>
      <summary>Find by colour</summary>
      <div class="stack">
        <LevelStepper
          label="Level"
          level={level.value}
          onLevel={(chosen) => {
            level.value = chosen;
          }}
        />
        <div class="surround">
          <ToneChart
            tones={TONES.map((word) => [word, wish_hex(level.value, word)] as const)}
            chosen={tone.value}
            onChoose={(word) => {
              tone.value = word;
              reading.value = ["", "", ""];
            }}
          />
        </div>
        <LabField
          legend="Or measured (D65, 10°)"
          value={reading.value}
          onType={(value) => {
            reading.value = value;
          }}
          faults={[undefined, undefined, undefined]}
        />
        <button
          type="button"
          onClick={() => {
            tone.value = "";
            reading.value = ["", "", ""];
          }}
        >
          Clear the colour
        </button>
      </div>
    </details>
  );
}

function Row({ found: { formula, delta_e } }: { found: FoundFormula }) {
  const { id, name, mix, predicted, chance, client } = formula;
  return (
    <li>
      <a class="found-row" href={address_of("formula", id)}>
        <Patch hex={predicted?.hex} missing="no colour kept" />
        <span class="found-words">
          <strong>{name || "no name"}</strong>
          <span>
            {/* A client's grams show on the formula's own page, which asks what holds the client. */}
            {!client && mix?.parts.map(({ grams }) => weight(grams)).join(" + ")}{" "}
            {mix && mix_words(mix)}
          </span>
          <span>
            {mix?.minutes} min
            {chance !== undefined && ` · lands ${chance_words(chance)}`}
            {client && ` · ${one("client", client).value?.name ?? "a client"}`}
          </span>
          {delta_e !== undefined && <span>{delta_e.toFixed(1)} ΔE away</span>}
        </span>
      </a>
    </li>
  );
}
