// The consultation record of one service, laid out for paper: what was asked, found, decided, mixed
// and timed, with lines to sign on.

import { strength, weight } from "../../device/settings";
import { day_words, rfc3339 } from "../../device/when";
import type { Said } from "../../gate/answer";
import { answers_of } from "../../gate/facts";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import { all, one, records_ready } from "../../records/read";
import type { Entity } from "../../records/shapes";
import { applied_ms, test_words, tests_of } from "../../salon/alert_tests/alert_tests";
import { type Reaction, reactions_of, seen_by, sign_words } from "../../salon/reactions";
import { type Service, type Zone, zones_of } from "../../salon/service/services";
import { product_words } from "../../shelf/shelf";
import "./style.css";

/** Returns the record of a service. */
export function RecordPage({ id }: { id: string }) {
  const service = one("service", id).value;
  if (!records_ready.value) return <p class="quiet">Opening what is kept on this phone…</p>;
  if (!service) return <p>This service is not on this phone.</p>;
  const client = one("client", service.client ?? "").value;
  return (
    <section class="stack consultation" aria-labelledby="record-heading">
      <div class="not-printed stack">
        <button type="button" class="record-print" onClick={() => print()}>
          Print, or save as PDF
        </button>
        <a class="button" href={address_of("service", id)}>
          Back to the service
        </a>
      </div>
      <h2 id="record-heading">Consultation record</h2>
      <dl class="record-rows">
        <Row name="Client" value={client?.name ?? ""} />
        <Row name="Date" value={when(service.planned_at)} />
        <Row name="State" value={service.state ?? ""} />
        <Row name="Printed" value={when(rfc3339(Date.now()))} />
      </dl>
      <Answers client={client} service={service} />
      <Decisions service={id} />
      <TestRows client={service.client ?? ""} />
      {zones_of(id).map((zone) => (
        <ZoneRows key={zone.id} zone={zone} />
      ))}
      <Reactions service={id} />
      <Signatures />
      <p class="record-bounds">
        A checklist that remembers, not a clinician. The maker’s instructions, local law and
        licence, and a doctor go first. A clear alert test lowers the risk; it does not rule a
        reaction out.
      </p>
    </section>
  );
}

function Row({ name, value }: { name: string; value: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{value || "not recorded"}</dd>
    </div>
  );
}

const SAFETY_ANSWERS = [
  ["colour_reaction", "Reaction to hair colour"],
  ["black_tattoo", "Temporary black tattoo"],
  ["dye_allergy", "Allergy to dye"],
  ["persulfate_reaction", "Reaction to lightener"],
] as const;

function Answers({ client, service }: { client: Entity<"client"> | undefined; service: Service }) {
  const merged = new Set<string>(SAFETY_ANSWERS.map(([field]) => field));
  // What was said of one test stands with that test.
  const asked = Object.entries(answers_of(service)).filter(
    ([fact]) => !merged.has(fact) && !fact.includes(":"),
  ) as [string, Said][];
  return (
    <div>
      <h3>Answers</h3>
      <dl class="record-rows">
        {SAFETY_ANSWERS.map(([field, name]) => (
          <Row key={field} name={name} value={plain(client?.[field] ?? "not asked")} />
        ))}
        {asked.map(([fact, { asked: question, words, value, at, by }]) => (
          <Row
            key={fact}
            name={question ?? plain(fact)}
            value={[words ?? plain(value), when(at), by].filter(Boolean).join(", ")}
          />
        ))}
      </dl>
    </div>
  );
}

function Decisions({ service }: { service: string }) {
  const decisions = all("decision").value.filter(({ service: of }) => of === service);
  return (
    <div>
      <h3>Decisions</h3>
      {decisions.length === 0 && <p>None recorded.</p>}
      <ul>
        {decisions.map(({ id, rule, basis, saw, why, by, role, at }) => (
          <li key={id}>
            {plain(rule)}
            {basis ? ` (${basis})` : ""}: saw {saw}; goes on because {why}. {by}
            {role ? `, ${plain(role)}` : ""}, {when(at)}
          </li>
        ))}
      </ul>
    </div>
  );
}

function TestRows({ client }: { client: string }) {
  const tests = tests_of(client);
  return (
    <div>
      <h3>Alert tests</h3>
      {tests.length === 0 && <p>None recorded.</p>}
      <ul>
        {tests.map((test) => (
          <li key={test.id}>
            {test.line}, put on {when(rfc3339(applied_ms(test)))}
            {test.site ? `, ${test.site}` : ""}: {test_words(test, Date.now())}
            {test.read_at ? `, ${when(test.read_at)}` : ""}
          </li>
        ))}
      </ul>
    </div>
  );
}

function ZoneRows({ zone }: { zone: Zone }) {
  const { mix, products } = zone;
  return (
    <div>
      <h3>{zone.name}</h3>
      <dl class="record-rows">
        {mix?.parts.map(({ product, grams }) => (
          <Row
            key={product}
            name={products?.find(({ id }) => id === product)?.name ?? product_words(product)}
            value={zone.first_section_at ? weight(grams) : "not begun"}
          />
        ))}
        {mix && zone.first_section_at && <Row name="Developer" value={developer_words(mix)} />}
        <Row name="First section" value={when(zone.first_section_at)} />
        <Row name="Last section" value={when(zone.last_section_at)} />
        <Row name="Maker’s time ends" value={when(zone.deadline_at)} />
        <Row name="Rinsed" value={when(zone.rinsed_at)} />
      </dl>
    </div>
  );
}

function developer_words({ developer }: NonNullable<Zone["mix"]>): string {
  if (!developer) return "none";
  return `${weight(developer.grams)} at ${strength(developer.percent)}`;
}

function Reactions({ service }: { service: string }) {
  const reactions = reactions_of(service);
  if (reactions.length === 0) return null;
  return (
    <div>
      <h3>Reactions</h3>
      <ul>
        {reactions.map((reaction) => (
          <li key={reaction.id}>{reaction_words(reaction)}</li>
        ))}
      </ul>
    </div>
  );
}

function reaction_words(reaction: Reaction): string {
  const { at, signs, done, told, text, batches } = reaction;
  const products = (batches ?? []).map(({ line, product, batch }) =>
    `${line ?? ""} ${product}, batch ${batch ?? "not known"}`.trim(),
  );
  return [
    `${when(at)}: ${(signs ?? []).map(sign_words).join(", ")}`,
    `Done: ${done || "not recorded"}`,
    `Told: ${told || "nobody recorded"}`,
    text,
    seen_by(reaction),
    products.join("; "),
  ]
    .filter(Boolean)
    .join(". ");
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

/** Returns a day and a time in words; empty for none. */
function when(moment: string | undefined): string {
  if (!moment) return "";
  const year = new Date(moment).getFullYear();
  return `${day_words(moment)} ${year}, ${time_of_day(Date.parse(moment))}`;
}

/** Returns a value as words: "yes_no_reaction" is "yes no reaction". */
function plain(value: unknown): string {
  if (value === undefined || value === null) return "";
  const text = typeof value === "string" ? value : JSON.stringify(value);
  return text.replaceAll(/[_-]/g, " ");
}
