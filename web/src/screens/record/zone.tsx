// One zone on paper: what was weighed, from which line and batch, and when it went on and off.
import type { JSX } from "preact";
import { strength, weight } from "../../device/settings";
import { capital, minutes_words } from "../../parts/words";
import type { Heard } from "../../records/types.generated";
import { foretold, minutes_on, type Zone } from "../../salon/service/services";
import { bowl_of, type Start } from "../../salon/service/start";
import { found_tubes } from "../../salon/service/wrong_tube";
import { who_words } from "../../salon/who";
import { tube_words } from "../../shelf/shelf";
import { Row } from "./row";
import { hair_in_words, when, window_in_words, wish_in_words } from "./words";

interface ZoneRowsProps {
  zone: Zone;
  /** The visit as it stood when this zone began; undefined for one of an earlier version. */
  start: Start | undefined;
}

interface ZoneRecordProps extends ZoneRowsProps {
  /** What stands in the place of the grams while they are kept back. */
  instead: JSX.Element | undefined;
}

/** Returns the zone's part of the record. */
export function ZoneRows({ zone, start, instead }: ZoneRecordProps) {
  const { first_section_at, last_section_at, rinsed_at, deadline_at } = zone;
  const said = start ?? zone;
  return (
    <div>
      <h3>{zone.name}</h3>
      <dl class="record-rows">
        <Row name="Wish" value={wish_in_words(said.wish)} />
        <Row name="Hair" value={hair_in_words(said.hair)} />
      </dl>
      {first_section_at ? (
        (instead ?? <Weighed zone={zone} start={start} />)
      ) : (
        <p>Nothing went on.</p>
      )}
      {first_section_at && (
        <dl class="record-rows">
          {all_foretold(zone, start).map(({ label, colour }) => (
            <Row key={label} name={capital(label)} value={colour.words} />
          ))}
          <Row name="To rinse" value={window_in_words(said.window)} />
          <Row name="First section" value={when(first_section_at)} />
          <Row name="Last section" value={when(last_section_at)} />
          <Row name="Maker’s time ends" value={when(deadline_at)} />
          <Row
            name="Rinsed"
            value={when(rinsed_at)}
            beside={rinsed_at ? `${minutes_words(minutes_on(zone))} on` : ""}
          />
          {[...found_tubes(zone, start).values()].map(({ name, instead_of, at, by }) => (
            <Row
              key={instead_of}
              name="Tube found wrong"
              value={`${name} went in, not ${instead_of}`}
              beside={`${when(at)}, ${who_words(by)}`}
            />
          ))}
          {heard_of(zone).map(({ at, by }) => (
            <Row key={at} name="Alarm heard" value={when(at)} beside={who_words(by)} />
          ))}
        </dl>
      )}
    </div>
  );
}

/** Returns the colour foretold of a zone by its plan, and the rinsed minute's where it differs. */
function all_foretold(zone: Zone, start: Start | undefined) {
  const plan = start?.predicted && foretold({ id: zone.id, predicted: start.predicted });
  const last = foretold(zone);
  return [plan?.label !== last?.label && plan, last].filter((told) => !!told);
}

/** Returns who heard the zone's alarms and when, the earliest first; two heard at once are one. */
function heard_of({ heard = {} }: Zone): Heard[] {
  const by_time = new Map(Object.values(heard).map((one) => [one.at, one]));
  return [...by_time.values()].sort((a, b) => a.at.localeCompare(b.at));
}

function Weighed({ zone, start }: ZoneRowsProps) {
  const lightener = start ? start.lightener : zone.work === "lightener" && zone.lightener;
  if (lightener) {
    const { kind, grams, mix_ratio, developer_percent, max_min } = lightener;
    return (
      <dl class="record-rows">
        <Row name={`Lightener, ${kind}`} value={weight(grams)} />
        <Row
          name="Developer"
          value={`${weight(grams * mix_ratio)} at ${strength(developer_percent)}`}
        />
        <Row name="Leaflet’s longest time" value={max_min ? minutes_words(max_min) : ""} />
      </dl>
    );
  }
  const bowl = start?.bowl ?? bowl_of(zone);
  const found = found_tubes(zone, start);
  if (!bowl) return <p>What was mixed is not recorded.</p>;
  const { parts, developer } = bowl;
  const total_g = parts.reduce((sum, { grams }) => sum + grams, developer?.grams ?? 0);
  return (
    <table class="record-bowl">
      <thead>
        <tr>
          <th scope="col">In the bowl</th>
          <th scope="col">Batch</th>
          <th scope="col">Weighed</th>
        </tr>
      </thead>
      <tbody>
        {parts.map(({ product, line, name, grams, batch }) => (
          <tr key={product}>
            <td>{found.get(product)?.name ?? tube_words({ ...(line && { line }), name })}</td>
            {/* Which tube an earlier version took, nobody kept. */}
            <td>{(start && !found.has(product) && batch) || "not noted"}</td>
            <td>{weight(grams)}</td>
          </tr>
        ))}
        {developer && developer.grams > 0 && (
          <tr>
            <td>Developer {strength(developer.percent)}</td>
            <td />
            <td>{weight(developer.grams)}</td>
          </tr>
        )}
        <tr>
          <td>All of it</td>
          <td />
          <td>{weight(total_g)}</td>
        </tr>
      </tbody>
    </table>
  );
}
