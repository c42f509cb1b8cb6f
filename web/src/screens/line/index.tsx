// One product line: its box first, since every shade shares that; then its shades.

import { strength } from "../../device/settings";
import { useTypedOver } from "../../device/typed";
import { Absent } from "../../parts/absent";
import { Choice } from "../../parts/choice";
import { TextField } from "../../parts/text";
import { address_of } from "../../place";
import { one, records_ready } from "../../records/read";
import type { Entity, Writing } from "../../records/shapes";
import { change } from "../../records/write";
import { missing_words } from "../../shelf/missing";
import { CLASSES, MADE_FOR } from "../../shelf/shade_codes";
import { shades_of } from "../../shelf/shelf";
import { Developers } from "./developers";
import { Legend } from "./legend";
import { Minutes } from "./minutes";
import { NewShade } from "./new_shade";
import { Shades } from "./shades";
import "./style.css";

const RATIOS = [0.5, 1, 1.5, 2, 3] as const;

/** Returns the line's page. */
export function LinePage({ id }: { id: string }) {
  const line = one("line", id).value;
  if (!records_ready.value) return <p class="quiet">Opening your records…</p>;
  if (!line) return <Absent what="line" href={address_of("shelf")} way="Go to the shelf" />;
  return (
    <section class="stack line-page" aria-labelledby="line-heading">
      <a href={address_of("shelf")}>Back to the shelf</a>
      <h2 id="line-heading">{line.name || "A new line"}</h2>
      <LineSaid line={line} />
      <Box line={line} />
      {missing_words(line) ? (
        <p class="quiet">{missing_words(line)}</p>
      ) : (
        <>
          <NewShade line={line} />
          <a class="line-swatches" href={address_of("swatches", id)}>
            {line.calibration ? "Mixes go by your swatches" : "Learn these tubes from swatches"}
          </a>
          <Shades line={line} shades={shades_of(id)} />
          <Legend line={line} />
        </>
      )}
    </section>
  );
}

/** What the box says, in a line, once it is folded away. */
function LineSaid({ line }: { line: Entity<"line"> }) {
  const made_for = MADE_FOR.find(([name]) => name === line.promised_on)?.[1];
  if (missing_words(line)) return null;
  const strengths = (line.developer_percent ?? []).map(strength).join(", ");
  return (
    <p class="quiet line-said">
      {CLASSES.find(([name]) => name === line.class)?.[1]}
      {line.class !== "direct" && `, developer ${strengths}`}.{" "}
      {made_for ? `Made for ${made_for}.` : "Nobody has said which hair it is made for."}
    </p>
  );
}

function Box({ line }: { line: Entity<"line"> }) {
  const { id, name = "", mix_ratio, leaflet_version = "" } = line;
  const put = (fields: Writing<"line">) =>
    change("line", id, fields, `Changed ${name || "this line"}.`);
  const whole = missing_words(line) === "" && shades_of(id).length > 0;
  const said = (
    <div class="stack">
      <TextField
        label="Name of the line"
        {...useTypedOver("line name", id, name, (typed) => put({ name: typed.trim() }))}
      />
      <Choice
        legend="Class, by its leaflet"
        options={CLASSES}
        value={line.class}
        onChoose={(value) => put({ class: value })}
      />
      {line.class !== "direct" && (
        <>
          <Developers line={line} />
          <Choice
            legend="Developer to one part of colour"
            options={RATIOS.map((ratio) => [ratio, `1 : ${ratio}`] as const)}
            value={mix_ratio}
            onChoose={(value) => put({ mix_ratio: value })}
          />
        </>
      )}
      <Choice
        legend="Made for, by its chart"
        options={MADE_FOR}
        value={line.promised_on}
        onChoose={(value) => put({ promised_on: value })}
        note="The hair its shade names are true on. Not sure? Tap any hair."
      />
      <Minutes line={line} onWindow={(window) => put({ window })} />
      <TextField
        label="Leaflet’s version"
        note="As printed. An alert test counts for this leaflet version."
        {...useTypedOver("leaflet", id, leaflet_version, (typed) =>
          put({ leaflet_version: typed.trim() }),
        )}
      />
    </div>
  );
  if (!whole) return said;
  return (
    <details>
      <summary>What the box says</summary>
      {said}
    </details>
  );
}
