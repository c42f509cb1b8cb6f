// The taken mix as scale readings on one screen, for as much hair as there is.
import { useEffect, useRef, useState } from "preact/hooks";
import type { MixReply } from "../../api/shapes";
import { amounts } from "../../bench/entries";
import { money, strength } from "../../device/settings";
import { waiting_words } from "../../engine/where";
import { Choice } from "../../parts/choice";
import { Ladder } from "../../parts/ladder";
import { Stopped, Working } from "../../parts/notice";
import type { Zone } from "../../salon/service/services";
import { shelf } from "../../shelf/shelf";
import {
  change,
  keep_as_weighed,
  ladder,
  scale,
  stock,
  toggle_stock,
  watch_ladder,
} from "./actions";
import "./style.css";

/** Returns the ladder of what was taken for a zone, and what its amount depends on. */
export function Weigh({ zone }: { zone: Zone }) {
  useEffect(() => watch_ladder(zone.id), [zone.id]);
  const [done, put_done] = useState(0);
  const before = useRef<MixReply | undefined>(undefined);
  const asked = ladder.asked.value;
  if (asked.state === "answered") before.current = asked.answer.reply;
  // What is being poured does not leave the screen while it is worked out anew.
  const reply = asked.state === "failed" ? undefined : before.current;
  return (
    <>
      {!reply && asked.state !== "failed" && (
        <Working what="Working out what to weigh…" waiting={waiting_words.value} />
      )}
      {asked.state === "failed" && (
        <Stopped sentence={asked.sentence} onAgain={() => ladder.again()} />
      )}
      {reply && (
        <>
          {reply.suggested && <p>{reply.suggested.words}</p>}
          <Ladder
            reply={reply}
            done={done}
            onDone={(now) => {
              put_done(now);
              if (now > reply.recipe.length) void keep_as_weighed(zone, reply);
            }}
            cost={reply.cost === null ? "Not known: a price is missing." : money(reply.cost)}
          />
        </>
      )}
      {!zone.first_section_at && <Amount />}
      <Scale />
    </>
  );
}

const LENGTHS = [
  ["", "as chosen"],
  ["cropped", "cropped"],
  ["short", "short"],
  ["chin", "chin"],
  ["shoulder", "shoulder"],
  ["long", "long"],
  ["very_long", "very long"],
] as const;

function Amount() {
  const { length, density, share, left_over } = amounts.value;
  return (
    <details open={length !== "" || undefined}>
      <summary>How much hair, what was left over</summary>
      <div class="stack">
        <Choice
          legend="Length"
          options={LENGTHS}
          value={length}
          onChoose={(value) => change({ length: value })}
        />
        {length && (
          <>
            <Choice
              legend="Density"
              options={[
                ["fine", "fine"],
                ["medium", "medium"],
                ["thick", "thick"],
              ]}
              value={density}
              onChoose={(value) => change({ density: value })}
            />
            <Choice
              legend="This zone is"
              options={[
                [1, "the whole head"],
                [0.5, "half of it"],
                [0.25, "a quarter"],
                [0.1, "a tenth"],
              ]}
              value={share}
              onChoose={(value) => change({ share: value })}
            />
            <Choice
              legend="Left over the last time"
              options={[
                ["", "not known"],
                ["none", "none"],
                ["a_little", "a little"],
                ["half", "half"],
              ]}
              value={left_over}
              onChoose={(value) => change({ left_over: value })}
            />
          </>
        )}
      </div>
    </details>
  );
}

const USUAL_PERCENTS = [3, 6, 9, 12];

function Scale() {
  const { unit, step_g } = scale.value;
  const allowed = shelf.value.products.flatMap((product) => product.developer_percent ?? []);
  const percents = [...new Set([...allowed, ...USUAL_PERCENTS])].sort((a, b) => a - b);
  return (
    <details>
      <summary>Your scale and your developers</summary>
      <div class="stack">
        <Choice
          legend="The scale’s smallest step"
          options={[
            [0.1, "0.1 g"],
            [1, "1 g"],
            [5, "5 g"],
          ]}
          value={step_g}
          onChoose={(value) => {
            scale.value = { ...scale.value, step_g: value };
          }}
        />
        <Choice
          legend="Amounts in"
          options={[
            ["g", "g"],
            ["oz", "oz"],
            ["ml", "ml"],
            ["parts", "parts"],
          ]}
          value={unit || undefined}
          onChoose={(value) => {
            scale.value = { ...scale.value, unit: value };
          }}
        />
        <fieldset>
          <legend>Developers in stock</legend>
          <div class="weigh-stock">
            {percents.map((percent) => (
              <button
                key={percent}
                type="button"
                aria-pressed={stock.value?.includes(percent) ?? false}
                onClick={() => toggle_stock(percent)}
              >
                {strength(percent)}
              </button>
            ))}
          </div>
          <p class="quiet">
            A strength between two is mixed from what is marked. With none marked, the strength
            wanted is taken to be there.
          </p>
        </fieldset>
      </div>
    </details>
  );
}
