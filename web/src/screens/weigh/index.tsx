// The taken mix as scale readings on one screen, for as much hair as there is.
import { useEffect, useRef, useState } from "preact/hooks";
import type { MixReply } from "../../api/shapes";
import { amounts, SHARE_UNSAID } from "../../bench/entries";
import { money, settings, strength } from "../../device/settings";
import { useTypedOver } from "../../device/typed";
import { waiting_words } from "../../engine/where";
import { Choice } from "../../parts/choice";
import { Ladder } from "../../parts/ladder";
import { Stopped, Working } from "../../parts/notice";
import { TextField } from "../../parts/text";
import { one } from "../../records/read";
import type { Zone } from "../../salon/service/services";
import { keep_as_weighed } from "../../salon/service/weighed";
import { open_batch, product_words, shelf } from "../../shelf/shelf";
import { change, ladder, note_batch, scale, stock, toggle_stock, watch_ladder } from "./actions";
import "./style.css";

interface WeighProps {
  zone: Zone;
  /** Chooses a mix with another strength of developer, in percent, before any is on. */
  onStrength?: ((percent: number) => void) | undefined;
}

/** Returns the ladder of what was taken for a zone, and what its amount depends on. */
export function Weigh({ zone, onStrength }: WeighProps) {
  useEffect(() => watch_ladder(zone.id), [zone.id]);
  const [done, put_done] = useState(0);
  const before = useRef<MixReply | undefined>(undefined);
  const asked = ladder.asked.value;
  if (asked.state === "answered") before.current = asked.answer.reply;
  // What is being poured does not leave the screen while it is worked out anew.
  const reply = asked.state === "failed" ? undefined : before.current;
  // How much hair there is says nothing of a swatch.
  const of_client = one("service", zone.service ?? "").value?.client;
  return (
    <>
      {!reply && asked.state !== "failed" && (
        <Working what="Working out what to weigh…" waiting={waiting_words.value} />
      )}
      {asked.state === "failed" && (
        <Stopped sentence={asked.sentence} onAgain={() => ladder.again()}>
          {onStrength &&
            asked.faults
              .flatMap(({ instead_percent = [] }) => instead_percent)
              .map((percent) => (
                <button key={percent} type="button" onClick={() => onStrength(percent)}>
                  Choose a mix with {strength(percent)}
                </button>
              ))}
        </Stopped>
      )}
      {reply && (
        <>
          {reply.suggested && <p>{reply.suggested.words}</p>}
          <Ladder
            reply={reply}
            done={done}
            onDone={(now) => {
              put_done(now);
              // With the first pour, what the scale is to show is what is on the hair.
              if (now > 1) void keep_as_weighed(zone, "Weighed the mix.");
            }}
            cost={reply.cost === null ? "Not known: a price is missing." : money(reply.cost)}
          />
        </>
      )}
      {!zone.first_section_at && of_client && <Amount zone={zone} />}
      <Batches zone={zone} />
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

function Amount({ zone }: { zone: Zone }) {
  const { length, density, share, left_over } = amounts.value;
  const unsaid = share === SHARE_UNSAID;
  const put = (fields: Partial<typeof amounts.value>) => change(zone.id, fields);
  return (
    <details open={length !== "" || unsaid || undefined}>
      <summary>How much hair, what was left over</summary>
      <div class="stack">
        {unsaid && (
          <p role="status">
            This bowl is not fitted to {zone.name} yet. Say the length and how much of the head it
            is.
          </p>
        )}
        <Choice
          legend="Length"
          options={LENGTHS}
          value={length}
          onChoose={(value) => put({ length: value })}
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
              onChoose={(value) => put({ density: value })}
            />
            <Choice
              legend="This zone is"
              options={[
                [1, "the whole head"],
                [0.5, "half of it"],
                [0.25, "a quarter"],
                [0.1, "a tenth"],
              ]}
              value={unsaid ? undefined : share}
              onChoose={(value) => put({ share: value })}
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
              onChoose={(value) => put({ left_over: value })}
            />
          </>
        )}
      </div>
    </details>
  );
}

/** The batch of one tube, kept from its first key on. */
function Batch({ product }: { product: string }) {
  const field = useTypedOver("batch in the bowl", product, open_batch(product) ?? "", (batch) =>
    note_batch(product, batch.trim()),
  );
  return <TextField label={product_words(product)} mostLength={40} {...field} />;
}

/** The batch of each tube in the bowl: it goes on the record with the grams. */
function Batches({ zone: { mix } }: { zone: Zone }) {
  const parts = mix?.parts ?? [];
  const noted = parts.filter(({ product }) => open_batch(product)).length;
  return (
    <details>
      <summary>
        Batches, {noted} of {parts.length} noted
      </summary>
      <div class="stack">
        {parts.map(({ product }) => (
          <Batch key={product} product={product} />
        ))}
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
            ["parts", "parts"],
          ]}
          value={unit || settings.value.weight}
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
