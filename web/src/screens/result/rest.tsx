// The rest of a result, none of it asked for: a photo, its colour measured, the next visit.
import { useState } from "preact/hooks";
import { lab_of } from "../../bench/requests";
import { photo_of } from "../../courier/photo";
import { useTyped } from "../../device/typed";
import { NextVisit } from "../../parts/next_visit";
import { LabField } from "../../parts/number";
import { Photo } from "../../parts/photo";
import { TakePhoto } from "../../parts/photo/take";
import { address_of } from "../../place";
import type { LabEntry } from "../../records/entered";
import { keep_photo } from "../../salon/photos";
import {
  in_weeks,
  next_visit,
  next_visit_shown,
  no_next,
  plan_next,
} from "../../salon/service/next_visit";
import { client_name, type Service } from "../../salon/service/services";
import { put_result } from "./actions";
import "./style.css";

/** Returns the rest of the section "Result" of a service. */
export function ResultRest({ service }: { service: Service }) {
  return (
    <>
      <ResultPhoto service={service} />
      <Measured service={service} />
      {service.client && <NextVisitAfter service={service} />}
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
