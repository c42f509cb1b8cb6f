// What came of it, once the hair is dry: mostly filled in already.

import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { lab_of } from "../../bench/requests";
import { photo_of } from "../../courier/photo";
import { useTyped } from "../../device/typed";
import { Choice } from "../../parts/choice";
import { NextVisit } from "../../parts/next_visit";
import { LabField } from "../../parts/number";
import { Patch } from "../../parts/patch";
import { Photo } from "../../parts/photo";
import { TakePhoto } from "../../parts/photo/take";
import { minutes_words } from "../../parts/words";
import { address_of } from "../../place";
import { foretold } from "../../prediction/held";
import type { LabEntry } from "../../records/entered";
import { keep_photo } from "../../salon/photos";
import {
  in_weeks,
  next_visit,
  next_visit_shown,
  no_next,
  plan_next,
} from "../../salon/service/next_visit";
import {
  client_name,
  minutes_on,
  type Service,
  type Zone,
  zones_of,
} from "../../salon/service/services";
import { mix_words } from "../../shelf/shelf";
import { put_result, said_of_dried } from "./actions";
import "./style.css";

const LOOKS = [
  ["as_shown", "as shown"],
  ["warmer", "warmer"],
  ["cooler", "cooler"],
  ["darker", "darker"],
  ["lighter", "lighter"],
  ["patchy", "patchy"],
] as const;

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
      <NextVisitAfter service={service} />
    </>
  );
}

/** The next visit counts its weeks from this one's day, and comes at the same time on the wall. */
function NextVisitAfter({ service }: { service: Service }) {
  const after = { client: service.client ?? "", before: service };
  const from_ms = Date.parse(service.planned_at ?? service.created_at);
  const planned = next_visit_shown(next_visit(after), from_ms);
  return (
    <NextVisit
      name={client_name(service)}
      planned={planned && { ...planned, href: address_of("service", planned.id) }}
      onWeeks={(weeks) => void plan_next(after, in_weeks(from_ms, weeks))}
      onNone={() => void no_next(after)}
    />
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
