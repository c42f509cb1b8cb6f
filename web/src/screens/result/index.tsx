// What came of it, once the hair is dry: mostly filled in already.
import { useState } from "preact/hooks";
import { Choice } from "../../parts/choice";
import { LabField } from "../../parts/number";
import { Patch } from "../../parts/patch";
import { lab_of } from "../../records/requests";
import { client_name, type Service, zones_of } from "../../records/services";
import { mix_words } from "../../records/shelf";
import { at_now, day_words, rfc3339 } from "../../records/when";
import { change } from "../../records/write";

const LOOKS = [
  ["as_shown", "as shown"],
  ["warmer", "warmer"],
  ["cooler", "cooler"],
  ["darker", "darker"],
  ["lighter", "lighter"],
  ["patchy", "patchy"],
] as const;

const WEEKS = [4, 6, 8, 10] as const;
const WEEK_MS = 7 * 24 * 3_600_000;

/** Returns the section "Result", open. */
export function Result({ service }: { service: Service }) {
  const [lab, put_lab] = useState<[string, string, string]>(["", "", ""]);
  const { result } = service;
  const put = (fields: Record<string, unknown>) =>
    void change("service", service.id, { result: { ...result, ...fields, at: at_now() } });
  const visit_in = (weeks: number) =>
    rfc3339(Date.parse(service.planned_at ?? at_now()) + weeks * WEEK_MS).slice(0, 10);
  return (
    <>
      <div class="surround patches">
        {zones_of(service.id)
          .filter(({ mix }) => mix)
          .map(({ id, name, predicted, mix }) => (
            <Patch
              key={id}
              label={`${name}, foretold dry`}
              hex={predicted?.hex}
              words={mix ? `${predicted?.words ?? ""}: ${mix_words(mix)}` : ""}
              missing="nothing mixed"
            />
          ))}
      </div>
      <Choice
        legend="Dry, it is"
        options={LOOKS}
        value={result?.words}
        onChoose={(words) => put({ words })}
      />
      <details>
        <summary>Measured, as L*, a*, b*</summary>
        <LabField
          legend="Dry, by an instrument (D65, 10°)"
          value={lab}
          onType={(typed) => {
            put_lab(typed);
            const read = lab_of(typed);
            if (read) put({ lab: read });
          }}
          faults={[undefined, undefined, undefined]}
        />
      </details>
      <Choice
        legend={`Next visit of ${client_name(service)}`}
        options={WEEKS.map((weeks) => [weeks, `${weeks} weeks`] as const)}
        value={WEEKS.find((weeks) => service.next_visit === visit_in(weeks))}
        onChoose={(weeks) => void change("service", service.id, { next_visit: visit_in(weeks) })}
        note={service.next_visit ? day_words(service.next_visit) : ""}
      />
    </>
  );
}
