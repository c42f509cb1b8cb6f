// What came of it, once the hair is dry: mostly filled in already.

import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { lab_of } from "../../bench/requests";
import { photo_of } from "../../courier/photo";
import { useTyped } from "../../device/typed";
import { day_words } from "../../device/when";
import { Choice } from "../../parts/choice";
import { LabField } from "../../parts/number";
import { Patch } from "../../parts/patch";
import { Photo } from "../../parts/photo";
import { TakePhoto } from "../../parts/photo/take";
import { minutes_words } from "../../parts/words";
import { foretold } from "../../prediction/held";
import type { LabEntry } from "../../records/entered";
import { keep_photo } from "../../salon/photos";
import {
  client_name,
  minutes_on,
  type Service,
  type Zone,
  zones_of,
} from "../../salon/service/services";
import { mix_words } from "../../shelf/shelf";
import { put_next_visit, put_result, said_of_dried, visit_in } from "./actions";
import "./style.css";

const LOOKS = [
  ["as_shown", "as shown"],
  ["warmer", "warmer"],
  ["cooler", "cooler"],
  ["darker", "darker"],
  ["lighter", "lighter"],
  ["patchy", "patchy"],
] as const;

const WEEKS = [4, 6, 8, 10] as const;

interface ResultProps {
  service: Service;
  /** The question how the zone that is laid out dries, once it is rinsed. */
  dried?: ComponentChildren;
}

/** Returns the section "Result", open. */
export function Result({ service, dried }: ResultProps) {
  const { result } = service;
  const said = said_of_dried(service.id);
  useEffect(() => {
    // What was said of a dried strand is the result: it is not asked a second time.
    if (said && said !== result?.words) void put_result(service, { words: said });
  }, [said]);
  const mixed = zones_of(service.id).filter(({ mix }) => mix);
  return (
    <>
      {mixed.length > 0 && (
        <div class="surround patches">
          {mixed.map((zone) => (
            <Patch
              key={zone.id}
              label={`${zone.name}, foretold dry`}
              hex={foretold(zone)?.hex}
              words={done_words(zone)}
            />
          ))}
        </div>
      )}
      {dried ?? (
        <Choice
          legend="Dry, it is"
          options={LOOKS}
          value={result?.words}
          onChoose={(words) => void put_result(service, { words })}
        />
      )}
      <ResultPhoto service={service} />
      <Measured service={service} />
      <Choice
        legend={`Next visit of ${client_name(service)}`}
        options={WEEKS.map((weeks) => [weeks, `${weeks} weeks`] as const)}
        value={WEEKS.find((weeks) => service.next_visit === visit_in(service, weeks))}
        onChoose={(weeks) => void put_next_visit(service, weeks)}
        note={service.next_visit ? day_words(service.next_visit) : ""}
      />
    </>
  );
}

/** Returns what was mixed for a zone, how long it was on, and what was foretold of it. */
function done_words(zone: Zone): string {
  const minutes = zone.rinsed_at ? `, ${minutes_words(minutes_on(zone))} on` : "";
  return `${foretold(zone)?.words ?? ""}: ${zone.mix ? mix_words(zone.mix) : ""}${minutes}`;
}

function ResultPhoto({ service }: { service: Service }) {
  const [said, say] = useState("");
  const photo = service.result?.photo;
  const take = async (taken: Blob) => {
    try {
      await put_result(service, { photo: await keep_photo(taken) });
      say("");
    } catch (why) {
      say(why instanceof Error ? why.message : String(why));
    }
  };
  return (
    <div class="result-photo">
      <TakePhoto
        words={photo ? "Another photo" : "Photo of the result"}
        onPhoto={(taken) => void take(taken)}
      />
      {said && <p role="status">{said}</p>}
      {photo && <Photo key={photo} sha256={photo} words="the result" blob_of={photo_of} />}
    </div>
  );
}

function Measured({ service }: { service: Service }) {
  const read = service.result?.lab;
  const stored = (read?.map(String) as LabEntry | undefined) ?? (["", "", ""] as LabEntry);
  const [typed, put_typed] = useTyped<LabEntry>("measured", service.id, stored);
  return (
    <details>
      <summary>
        {read ? `Measured: L* a* b* ${read.join(", ")}` : "Measured, as L*, a*, b*"}
      </summary>
      <LabField
        legend="Dry, by an instrument (D65, 10°)"
        value={typed}
        onType={(now) => {
          put_typed(now);
          const lab = lab_of(now);
          if (lab) void put_result(service, { lab });
        }}
        faults={[undefined, undefined, undefined]}
      />
    </details>
  );
}
