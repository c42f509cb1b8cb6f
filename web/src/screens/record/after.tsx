// What followed the start of a visit: looks, result, notes; and apart from all of it, with their own
// dates, what became known later.
import { photo_of } from "../../courier/photo";
import { Photo } from "../../parts/photo";
import { minutes_words } from "../../parts/words";
import { notes_of_service } from "../../salon/clients";
import { type Reaction, reactions_of, seen_by, sign_words } from "../../salon/reactions";
import { readings_of } from "../../salon/service/readings";
import { type Service, zones_of } from "../../salon/service/services";
import { answers_now, type Start } from "../../salon/service/start";
import { who_words } from "../../salon/who";
import { AnswerRows, name_of } from "./answers";
import { Row } from "./row";
import { plain, when } from "./words";

/** Returns looks, result and notes of a visit. */
export function WhatCameOfIt({ service, photos }: { service: Service; photos: boolean }) {
  const { result } = service;
  const notes = notes_of_service(service.id);
  return (
    <div>
      <h3>What came of it</h3>
      <dl class="record-rows">
        <Row
          name="Result, dry"
          value={[plain(result?.words), result?.lab && `L* a* b* ${result.lab.join(", ")}`]
            .filter(Boolean)
            .join("; ")}
          beside={when(result?.at)}
        />
        {zones_of(service.id).flatMap((zone) =>
          readings_of(zone.id).map(({ id, minute, words, lab, where, at, created_at }) => (
            <Row
              key={id}
              name={`Look at ${zone.name}, ${minutes_words(minute ?? 0)}`}
              value={[plain(words) || (lab && `L* a* b* ${lab.join(", ")}`), plain(where)]
                .filter(Boolean)
                .join(", ")}
              beside={when(at ?? created_at)}
            />
          )),
        )}
        {notes.map(({ id, text, photo, at, created_at, by }) => (
          <Row
            key={id}
            name="Note"
            value={text || (photo ? "a photo" : "")}
            beside={`${when(at ?? created_at)}, ${who_words(by)}`}
          />
        ))}
      </dl>
      {photos &&
        [result?.photo, ...notes.map(({ photo }) => photo)].map(
          (sha256) =>
            sha256 && <Photo key={sha256} sha256={sha256} words="photo" blob_of={photo_of} />,
        )}
      <Reactions reactions={reactions_of(service.id)} name="Reactions at this visit" />
    </div>
  );
}

/** Returns what became known after a visit, each with its own date; nothing where nothing did. */
export function KnownLater({ service, start }: { service: Service; start: Start | undefined }) {
  const began_ms = Date.parse(start?.at ?? service.planned_at ?? service.created_at);
  const later = reactions_of(service.client ?? "").filter(
    ({ at, created_at, service: of }) =>
      of !== service.id && Date.parse(at ?? created_at) > began_ms,
  );
  const answers = start ? changed_since(service, start) : [];
  if (later.length === 0 && answers.length === 0) return null;
  return (
    <section class="record-later" aria-labelledby="record-later">
      <h3 id="record-later">Known later, not at this visit</h3>
      {answers.length > 0 && <AnswerRows answers={answers} />}
      <Reactions reactions={later} name="Reactions" />
    </section>
  );
}

/** The client's lasting answers that are others now than at the start. */
function changed_since(service: Service, { answers = [] }: Start) {
  const then = new Map(answers.map((answer) => [answer.fact, answer]));
  const now = answers_now({ ...service, facts: {} });
  return now.filter((answer) => {
    const before = then.get(answer.fact);
    const differs = JSON.stringify(before?.value) !== JSON.stringify(answer.value);
    return differs && answer.value !== "not_asked" && name_of(answer) !== "";
  });
}

function Reactions({ reactions, name }: { reactions: readonly Reaction[]; name: string }) {
  if (reactions.length === 0) return null;
  return (
    <>
      <h4>{name}</h4>
      <ul>
        {reactions.map((reaction) => (
          <li key={reaction.id}>{reaction_words(reaction)}</li>
        ))}
      </ul>
    </>
  );
}

function reaction_words(reaction: Reaction): string {
  const { at, created_at, signs, done, told, text, batches } = reaction;
  const products = (batches ?? []).map(({ line, product, batch }) =>
    `${line ?? ""} ${product}, batch ${batch ?? "not known"}`.trim(),
  );
  return [
    `${when(at ?? created_at)}: ${(signs ?? []).map(sign_words).join(", ")}`,
    `Done: ${done || "not recorded"}`,
    `Told: ${told || "nobody recorded"}`,
    text,
    seen_by(reaction),
    products.join("; "),
  ]
    .filter(Boolean)
    .join(". ");
}
