// One kept formula: its colour, its grams, its hair; mixed again, or compared with another.

import { signal } from "@preact/signals";
import { lay_out_tried_out } from "../../bench/bench";
import { useTypedOver } from "../../device/typed";
import { date_words } from "../../device/when";
import { use_grams, what_holds } from "../../gate/clients";
import { Absent } from "../../parts/absent";
import { CautionLine } from "../../parts/caution";
import { KeptBack } from "../../parts/kept_back";
import { Patch } from "../../parts/patch";
import { TextField } from "../../parts/text";
import { address_of, go } from "../../place";
import { all, one, records_ready } from "../../records/read";
import { change, remove } from "../../records/write";
import { bowl_rows } from "../../salon/bowl_rows";
import type { Formula } from "../../salon/formulas";
import { zones_of } from "../../salon/service/services";
import { take_formula } from "../../salon/service/zone_acts";
import { mix_words } from "../../shelf/shelf";
import "./style.css";

/** The formula to compare with; empty for none. */
const beside = signal("");

/** A formula's name, kept from its first key on. */
function Name({ formula: { id, name = "" } }: { formula: Formula }) {
  const field = useTypedOver("formula name", id, name, (typed) =>
    change("formula", id, { name: typed.trim() }, `Name: ${typed.trim() || "none"}.`),
  );
  return <TextField label="Name" {...field} />;
}

/** Returns the formula's page. */
export function FormulaPage({ id }: { id: string }) {
  const formula = one("formula", id).value;
  const other =
    beside.value && beside.value !== id ? one("formula", beside.value).value : undefined;
  if (!records_ready.value) return <p class="quiet">Opening your records…</p>;
  if (!formula)
    return <Absent what="formula" href={address_of("formulas")} way="Go to the formulas" />;
  return (
    <section class="stack formula" aria-labelledby="formula-heading">
      <a href={address_of("formulas")}>Back to the formulas</a>
      <h2 id="formula-heading">{formula.name || "no name"}</h2>
      <div class="formula-body">
        <div class={other ? "formula-pair" : ""}>
          <OneFormula formula={formula} />
          {other && <OneFormula formula={other} />}
        </div>
        <div class="stack">
          <CautionLine />
          <Again formula={formula} />
          <button
            type="button"
            aria-pressed={beside.value === id}
            onClick={() => {
              beside.value = other || beside.value === id ? "" : id;
            }}
          >
            {other || beside.value === id ? "Stop comparing" : "Compare"}
          </button>
          {beside.value === id && <p>Now open the other formula.</p>}
          <Name formula={formula} />
          <button
            type="button"
            onClick={async () => {
              await remove("formula", id);
              go("formulas");
            }}
          >
            Delete this formula
          </button>
        </div>
      </div>
    </section>
  );
}

function OneFormula({ formula }: { formula: Formula }) {
  const { name, predicted, client, entered: was, created_at, engine_version } = formula;
  const hair = was?.hair;
  const grams = use_grams(client ?? "");
  return (
    <div class="stack">
      <div class="surround">
        <Patch
          label={name ?? ""}
          hex={predicted?.hex}
          words={predicted?.words ?? ""}
          missing="no colour kept"
        />
      </div>
      {grams === "shown" ? (
        <Grams formula={formula} />
      ) : (
        <KeptBack
          name={one("client", client ?? "").value?.name ?? "The client"}
          asking={grams === "asking"}
          href={address_of(...what_holds(client ?? ""))}
        />
      )}
      <p class="quiet">
        {hair && !hair.by_reading && `For hair of level ${hair.level}. `}
        {client && `First for ${one("client", client).value?.name ?? "a client"}. `}
        Kept {date_words(created_at)}
        {engine_version ? `, worked out by engine ${engine_version}` : ""}. It never changes: a new
        version is a new formula.
      </p>
    </div>
  );
}

function Grams({ formula: { mix } }: { formula: Formula }) {
  return (
    <ul class="formula-grams">
      {mix &&
        bowl_rows(mix).map(({ id, amount, name }) => (
          <li key={id}>
            <strong>{amount}</strong> {name}
          </li>
        ))}
      <li>
        <strong>{mix?.minutes} min</strong>
      </li>
    </ul>
  );
}

/** The ways to mix it again: in the try-out, or in a service that waits for its mix. */
function Again({ formula }: { formula: Formula }) {
  const grams = use_grams(formula.client ?? "");
  const waiting = all("service").value.filter(
    ({ id, state }) => state === "planned" && zones_of(id).some(({ mix }) => !mix),
  );
  return (
    <div class="stack">
      <button
        type="button"
        disabled={!formula.entered || grams !== "shown"}
        onClick={async () => {
          if (formula.entered) await lay_out_tried_out(formula.entered, "mix");
          go("try");
        }}
      >
        Try this again
      </button>
      {waiting.map((service) => (
        <button
          key={service.id}
          type="button"
          onClick={async () => {
            await take_formula(service.id, formula);
            go("service", service.id);
          }}
        >
          Mix again for {one("client", service.client ?? "").value?.name ?? "a client"},{" "}
          {date_words(service.planned_at ?? service.created_at)}
        </button>
      ))}
      {formula.mix && <p class="quiet">{mix_words(formula.mix)}</p>}
    </div>
  );
}
