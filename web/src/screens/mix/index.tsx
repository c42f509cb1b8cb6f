// What to mix from this shelf: one answer first, then the other ways to it.
import type { Fault } from "../../api/shapes";
import { chosen_formula, mix_key } from "../../bench/chosen";
import { amounts, open } from "../../bench/entries";
import { no_mix } from "../../bench/no_mix";
import { allowed_strengths } from "../../bench/requests";
import { strength, weight } from "../../device/settings";
import { fault_at } from "../../engine/faults";
import { formulas } from "../../engine/questions";
import { waiting_words, worked_out_words } from "../../engine/where";
import { CautionLine } from "../../parts/caution";
import { Choice } from "../../parts/choice";
import { Stopped, Working } from "../../parts/notice";
import { Patch } from "../../parts/patch";
import { Stepper } from "../../parts/stepper";
import { fetch_shelf, shelf, shelf_fault } from "../../shelf/shelf";
import { change } from "./actions";
import { TheAnswer } from "./answer";
import { Compare } from "./compare";
import { comparing } from "./compared";
import { set_apart } from "./set_apart";
import { NoMix, OutOfReach } from "./shortfall";
import "./style.css";
import { Ways } from "./ways";

interface Shown {
  hex: string | undefined;
  words: string;
}

interface WhatToMixProps {
  hair: Shown;
  wish: Shown;
  /** Why the grams stay hidden, in a sentence; empty where they show. */
  withheld?: string;
}

/** Returns the section "What to mix", open, with the hair and the wish on top. */
export function WhatToMix({ hair, wish, withheld = "" }: WhatToMixProps) {
  const pair = comparing.value;
  if (pair) return <Compare pair={pair} wish={wish} withheld={withheld !== ""} />;
  return (
    <>
      <div class="surround patches mix-patches">
        <Patch label="hair now" hex={hair.hex} words={hair.words} missing="not known yet" />
        <Patch label="wish" hex={wish.hex} words={wish.words} missing="being worked out" />
      </div>
      <Answer withheld={withheld} />
      <Amount />
    </>
  );
}

function Answer({ withheld }: { withheld: string }) {
  const asked = formulas.asked.value;
  const { products, demo } = shelf.value;
  if (products.length === 0) {
    return shelf_fault.value ? (
      <Stopped
        sentence={`Your shelf is not here yet. ${shelf_fault.value}`}
        onAgain={fetch_shelf}
      />
    ) : (
      <Working what="Fetching your shelf…" />
    );
  }
  if (asked.state === "nothing") {
    return <p class="quiet">Enter the hair and the wish first.</p>;
  }
  if (asked.state === "working") {
    return (
      <Working
        what={`Looking along your shelf of ${products.length}…`}
        waiting={waiting_words.value}
      />
    );
  }
  if (asked.state === "failed") {
    return (
      <Stopped sentence={asked.sentence} onAgain={() => formulas.again()}>
        <Places faults={asked.faults} />
      </Stopped>
    );
  }
  const { formulas: found, shortfall } = asked.answer.reply;
  if (no_mix.value) {
    return (
      <>
        <NoMix lead={no_mix.value} />
        <p class="quiet">{worked_out_words(asked.answer)}</p>
      </>
    );
  }
  const apart = set_apart(found);
  const chosen = chosen_formula.value ?? found[0];
  if (!chosen) return null;
  const ways = found.map((formula, place) => ({ formula, set_apart: apart[place] ?? "" }));
  return (
    <>
      {shortfall && <OutOfReach shortfall={shortfall} />}
      {withheld && <p>{withheld}</p>}
      <div class="mix-found">
        <TheAnswer
          key={mix_key(chosen.mix)}
          formula={chosen}
          set_apart={ways.find(({ formula }) => formula === chosen)?.set_apart ?? ""}
          withheld={withheld !== ""}
        />
        <Ways
          ways={ways.filter(({ formula }) => formula !== chosen)}
          leads={found[0]?.class ?? chosen.class}
          withheld={withheld !== ""}
        />
      </div>
      <p class="quiet">
        {demo ? "From the demo shelf" : "From your shelf"} of {products.length},
        {shortfall ? " closest first." : " surest first."}{" "}
        {demo && "Demo products are invented. Nobody sells them."}
      </p>
      <p class="quiet">{worked_out_words(asked.answer)}</p>
      <CautionLine />
    </>
  );
}

/** The places a refusal names, each with the way to the section it was entered in. */
function Places({ faults }: { faults: readonly Fault[] }) {
  const inside = (name: "hair" | "wish") =>
    faults.some(({ pointer }) => pointer.startsWith(`/${name}`));
  return (
    <>
      {faults.length > 1 && (
        <ul>
          {faults.map(({ pointer, message }) => (
            <li key={pointer}>{message}</li>
          ))}
        </ul>
      )}
      {inside("hair") && (
        <button type="button" onClick={() => open("hair")}>
          Go to the hair
        </button>
      )}
      {inside("wish") && (
        <button type="button" onClick={() => open("wish")}>
          Go to the wish
        </button>
      )}
    </>
  );
}

function Amount() {
  const { total_g, max_products, developer_percent = 0 } = amounts.value;
  const strengths = allowed_strengths(shelf.value.products);
  return (
    <details class="mix-amount">
      <summary>Amount, products, developer</summary>
      <div class="stack">
        <Stepper
          label="Colour, before developer"
          words={weight(total_g)}
          less="10 g less"
          more="10 g more"
          onLess={total_g > 10 ? () => change({ total_g: total_g - 10 }) : undefined}
          onMore={total_g < 300 ? () => change({ total_g: total_g + 10 }) : undefined}
          fault={fault_at("/limits/total_g") ?? fault_at("/limits/step_g")}
        />
        <Choice
          legend="Products in one bowl, without clear"
          options={[
            [1, "one"],
            [2, "up to two"],
            [3, "up to three"],
          ]}
          value={max_products}
          onChoose={(value) => change({ max_products: value })}
          fault={fault_at("/limits/max_products")}
        />
        {strengths.length > 1 && (
          <Choice
            legend="Developer, of those your leaflets allow"
            options={[
              [0, "lowest that works"] as const,
              ...strengths.map((percent) => [percent, strength(percent)] as const),
            ]}
            value={strengths.includes(developer_percent) ? developer_percent : 0}
            onChoose={(value) => change({ developer_percent: value })}
            fault={fault_at("/limits/developer_percent")}
          />
        )}
      </div>
    </details>
  );
}
