// The record of one visit, laid out for paper: what was known and decided at its start, what was
// weighed and when, what came of it, and apart from that what became known later.
import { useState } from "preact/hooks";
import { rfc3339 } from "../../device/when";
import { use_grams, what_holds } from "../../gate/clients";
import { Choice } from "../../parts/choice";
import { KeptBack } from "../../parts/kept_back";
import { address_of } from "../../place";
import { all, one, records_ready } from "../../records/read";
import { salon_name } from "../../salon/salon_name";
import { type Service, zones_of } from "../../salon/service/services";
import { NOT_DONE, put_not_done, standing_of, standing_words } from "../../salon/service/standing";
import { answers_until, type Start, starts_of } from "../../salon/service/start";
import { who_words } from "../../salon/who";
import { KnownLater, WhatCameOfIt } from "./after";
import { AnswerRows, changed_answers, DecisionRows, TestRows } from "./answers";
import { Row } from "./row";
import { rules_in_words, when } from "./words";
import { ZoneRows } from "./zone";
import "./style.css";

/** Returns the record of a visit. */
export function RecordPage({ id }: { id: string }) {
  const [photos, put_photos] = useState(false);
  const [used_shown, show_used] = useState("");
  const service = one("service", id).value;
  const client = service?.client ?? "";
  const grams = use_grams(client, id);
  if (!records_ready.value) return <p class="quiet">Opening your records…</p>;
  if (!service) return <p>This service is not on this phone.</p>;
  const starts = starts_of(id);
  const [first] = starts;
  const began = standing_of(service, Date.now()) !== "planned" && zones_begun(id).length > 0;
  const shown = began ? zones_begun(id) : zones_of(id);
  return (
    <section class="stack consultation" aria-labelledby="record-heading">
      <div class="not-printed stack">
        <button type="button" class="record-print" onClick={() => print()}>
          Print, or save as PDF
        </button>
        <label class="record-photos">
          <input
            type="checkbox"
            checked={photos}
            onChange={(event) => put_photos(event.currentTarget.checked)}
          />
          With photos
        </label>
        <a class="button" href={address_of("service", id)}>
          Back to the service
        </a>
        {!began && <NotDone service={service} />}
      </div>
      <h2 id="record-heading">Consultation record</h2>
      <Head service={service} first={first} />
      {began && first ? (
        <AtTheStart starts={starts} first={first} />
      ) : (
        <NotKept service={service} began={began} />
      )}
      {shown.map((zone) => (
        <ZoneRows
          key={zone.id}
          zone={zone}
          start={starts.findLast((start) => start.zone === zone.id)}
          instead={
            grams === "shown" || used_shown === id || !zone.rinsed_at ? undefined : (
              <KeptBack
                name={one("client", client).value?.name ?? "The client"}
                asking={grams === "asking"}
                href={address_of(...what_holds(client))}
                onShow={() => show_used(id)}
              />
            )
          }
        />
      ))}
      {began && <WhatCameOfIt service={service} photos={photos} />}
      <KnownLater service={service} start={first} />
      <Signatures />
      <p class="record-bounds">
        A checklist that remembers, not a clinician. The maker’s instructions, local law and
        licence, and a doctor come first. A clear alert test lowers the risk but does not rule a
        reaction out.
      </p>
    </section>
  );
}

function zones_begun(service: string) {
  return zones_of(service).filter(({ first_section_at }) => first_section_at);
}

function Head({ service, first }: { service: Service; first: Start | undefined }) {
  const client = one("client", service.client ?? "").value;
  const worked = first?.worker || who_words(first?.by ?? service.person ?? service.by);
  return (
    <dl class="record-rows">
      <Row name="Salon" value={first?.salon || salon_name()} />
      <Row name="Client" value={first?.name ?? client?.name ?? ""} />
      <Row name="Visit" value={when(service.planned_at)} />
      <Row name="State" value={standing_words(service, Date.now())} />
      <Row name="Worked by" value={worked} />
      <Row name="Rules of" value={rules_in_words(first?.profile ?? service.profile)} />
      <Row name="Printed" value={when(rfc3339(Date.now()))} />
    </dl>
  );
}

/** What was known when the first mix went on; and for a zone that began later, what changed. */
function AtTheStart({ starts, first }: { starts: readonly Start[]; first: Start }) {
  return (
    <div>
      <h3>As it stood at the start, {when(first.at)}</h3>
      <h4>Answers</h4>
      <AnswerRows answers={first.answers ?? []} />
      {starts.slice(1).map((start) => {
        const changed = changed_answers(first, start);
        return changed.length > 0 ? (
          <div key={start.id}>
            <h4>Answered before the next zone, {when(start.at)}</h4>
            <AnswerRows answers={changed} />
          </div>
        ) : null;
      })}
      <h4>Alert tests</h4>
      <TestRows tests={starts.at(-1)?.tests ?? []} />
      <h4>Decisions</h4>
      <DecisionRows decisions={starts.at(-1)?.decisions ?? []} />
    </div>
  );
}

const DAY_MS = 24 * 3_600_000;

/** What is known of a visit that kept no block: it never began, or an earlier version began it. */
function NotKept({ service, began }: { service: Service; began: boolean }) {
  const first_ms = Math.min(
    ...zones_begun(service.id).map(({ first_section_at = "" }) => Date.parse(first_section_at)),
  );
  const until_ms = began ? first_ms : Date.parse(service.planned_at ?? service.created_at) + DAY_MS;
  const tests = all("alert_test").value.filter(
    ({ client, applied_at = "" }) =>
      client === service.client && Date.parse(applied_at) <= until_ms,
  );
  return (
    <div>
      <h3>Answers</h3>
      {began && (
        <p>
          This visit is from before answers were kept with it. Below is what was answered up to its
          start and not again since. The times of the other answers were not kept.
        </p>
      )}
      <AnswerRows answers={answers_until(service, until_ms)} />
      <h4>Alert tests put on by then</h4>
      <TestRows tests={tests.map((test) => read_by_then(test, until_ms))} />
      <h4>Decisions</h4>
      <DecisionRows
        decisions={all("decision").value.filter(({ service: of }) => of === service.id)}
      />
    </div>
  );
}

/** A test as it stood at a moment: what was read of it afterwards was not known. */
function read_by_then<T extends { read_at?: string; read_by?: string; result?: string }>(
  test: T,
  until_ms: number,
): T {
  const { read_at } = test;
  if (!read_at || Date.parse(read_at) <= until_ms) return test;
  const { read_at: _, read_by: __, result: ___, ...before } = test;
  return before as T;
}

/** Why a visit was not done: said once, and then part of its record. */
function NotDone({ service }: { service: Service }) {
  return (
    <Choice
      legend="Not done? Say why"
      options={NOT_DONE.map((why) => [why, why] as const)}
      value={service.not_done?.why}
      onChoose={(why) => void put_not_done(service.id, why)}
    />
  );
}

function Signatures() {
  return (
    <div class="record-signatures">
      {["Client", "Colourist"].map((who) => (
        <p key={who}>
          <span class="record-line" />
          {who}, date
        </p>
      ))}
    </div>
  );
}
