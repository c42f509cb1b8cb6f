// The lightener of a zone, by its leaflet: what it is, its developer, when to look, when it ends.
import type { ComponentChildren } from "preact";
import { strength, weight } from "../../device/settings";
import { Choice } from "../../parts/choice";
import { Offer } from "../../parts/offer";
import { Stepper } from "../../parts/stepper";
import { minutes_words } from "../../parts/words";
import type { LightenerSaid } from "../../records/shapes";
import type { Zone } from "../../salon/service/services";
import { said_of, say, used_before } from "./actions";
import "./style.css";

const PERCENTS = [1.5, 3, 6, 9, 12] as const;
const RATIOS = [1, 1.5, 2, 2.5, 3] as const;
const MOST = [20, 30, 35, 40, 45, 50, 60] as const;
const LONGEST_MIN = 120;

interface LightenerEntryProps {
  zone: Zone;
  /** What stands in the place of what is weighed, while something holds the service. */
  withheld?: ComponentChildren;
}

/** Returns the entry of a zone's lightener, and what is weighed of it. */
export function LightenerEntry({ zone, withheld }: LightenerEntryProps) {
  if (zone.first_section_at) return <Weighed said={said_of(zone)} />;
  const said = said_of(zone);
  const { kind, developer_percent, check_every_min, max_min, mix_ratio, grams } = said;
  const put = (fields: Partial<LightenerSaid>) => void say(zone, fields);
  return (
    <>
      {max_min === undefined &&
        used_before().map((before) => (
          <Offer
            key={JSON.stringify(before)}
            name="The same lightener as before"
            words={words_of(before)}
            onTap={() => put(before)}
          />
        ))}
      <Choice
        legend="Lightener"
        options={[
          ["powder", "powder"],
          ["cream", "cream"],
        ]}
        value={kind}
        onChoose={(value) => put({ kind: value })}
      />
      <Choice
        legend="Developer"
        options={PERCENTS.map((percent) => [percent, strength(percent)] as const)}
        value={developer_percent}
        onChoose={(value) => put({ developer_percent: value })}
        note="At most 12 %. Take a strength that its leaflet allows."
      />
      <Choice
        legend="The leaflet’s longest time"
        options={MOST.map((minutes) => [minutes, `${minutes} min`] as const)}
        value={MOST.find((minutes) => minutes === max_min)}
        onChoose={(value) => put({ max_min: value })}
        note={max_min === undefined ? "Read it from the leaflet: without it no clock starts." : ""}
      />
      {max_min !== undefined && (
        <Stepper
          label="It ends at"
          words={minutes_words(max_min)}
          less="a minute less"
          more="a minute more"
          onLess={max_min > 1 ? () => put({ max_min: max_min - 1 }) : undefined}
          onMore={max_min < LONGEST_MIN ? () => put({ max_min: max_min + 1 }) : undefined}
        />
      )}
      <Stepper
        label="Look every"
        words={minutes_words(check_every_min)}
        less="a minute less often"
        more="a minute more"
        onLess={
          check_every_min > 1 ? () => put({ check_every_min: check_every_min - 1 }) : undefined
        }
        onMore={
          check_every_min < 60 ? () => put({ check_every_min: check_every_min + 1 }) : undefined
        }
      />
      <Choice
        legend="Developer to 1 part of lightener"
        options={RATIOS.map((ratio) => [ratio, `${ratio}`] as const)}
        value={mix_ratio}
        onChoose={(value) => put({ mix_ratio: value })}
      />
      <Stepper
        label="Lightener"
        words={weight(grams)}
        less="5 g less"
        more="5 g more"
        onLess={grams > 5 ? () => put({ grams: grams - 5 }) : undefined}
        onMore={grams < 200 ? () => put({ grams: grams + 5 }) : undefined}
      />
      {withheld ?? <Weighed said={said} />}
    </>
  );
}

function words_of({ kind, developer_percent, check_every_min, max_min }: LightenerSaid): string {
  const most = max_min ? `, at most ${max_min} min` : "";
  return `${kind}, ${strength(developer_percent)}, look every ${check_every_min} min${most}`;
}

/** What the scale shows after each of the two. */
function Weighed({ said: { kind, grams, mix_ratio, developer_percent } }: { said: LightenerSaid }) {
  const developer_g = grams * mix_ratio;
  return (
    <>
      <ol class="lighten-scale">
        <li>
          <span>{kind}</span>
          <strong>{weight(grams)}</strong>
        </li>
        <li>
          <span>
            developer {strength(developer_percent)}, {weight(developer_g)}
          </span>
          <strong>{weight(grams + developer_g)}</strong>
        </li>
      </ol>
      <p class="quiet">
        A lightener has a clock and no promised colour. Its maker’s instructions come first: its
        developer, its time, and whether it may touch the scalp.
      </p>
    </>
  );
}
