// One client: who, the hair, everything done to it, and the way to the next service.

import { photo_of } from "../../courier/photo";
import { weight } from "../../device/settings";
import { useTypedOver } from "../../device/typed";
import { at_now, date_words, minute_on_wall } from "../../device/when";
import { type Grams, use_grams } from "../../gate/clients";
import { Absent } from "../../parts/absent";
import { NextVisit } from "../../parts/next_visit";
import { Photo } from "../../parts/photo";
import { MainStep } from "../../parts/steps";
import { TextField } from "../../parts/text";
import { minutes_words, time_of_day } from "../../parts/words";
import { address_of, go } from "../../place";
import { one, records_ready } from "../../records/read";
import type { Writing } from "../../records/shapes";
import { change } from "../../records/write";
import {
  clients_named,
  history_of,
  notes_of_client,
  notes_of_service,
  services_of,
} from "../../salon/clients";
import {
  in_weeks,
  last_of,
  next_visit,
  next_visit_shown,
  no_next,
  plan_next,
} from "../../salon/service/next_visit";
import {
  foretold,
  grams_of,
  minutes_on,
  plan_service,
  type Service,
  type Zone,
  zones_of,
} from "../../salon/service/services";
import { standing_words } from "../../salon/service/standing";
import { mix_words } from "../../shelf/shelf";
import { Tests } from "./alert_tests";
import { History } from "./history";
import "./style.css";

/** A first visit is planned for ten, and moved from there. */
const TEN_MIN = 10 * 60;

/** Returns the client's page. */
export function ClientPage({ id }: { id: string }) {
  const client = one("client", id).value;
  const grams = use_grams(id);
  if (!records_ready.value) return <p class="quiet">Opening your records…</p>;
  if (!client) return <Absent what="client" href={address_of("clients")} way="Go to the clients" />;
  const services = services_of(id);
  const put = (fields: Writing<"client">, said: string) => change("client", id, fields, said);
  return (
    <section class="stack client" aria-labelledby="client-heading">
      <h2 id="client-heading">{client.name ?? "no name"}</h2>
      <details>
        <summary>Name and number</summary>
        <div class="stack">
          <NameField
            key={client.name}
            client={id}
            name={client.name ?? ""}
            onName={(name) => put({ name }, `Name: ${name}.`)}
          />
          <NumberField
            client={id}
            number={client.phone ?? ""}
            onNumber={(phone) => put({ phone: phone || null }, `Number: ${phone || "none"}.`)}
          />
        </div>
      </details>
      <NextVisitOf client={id} name={client.name ?? ""} />
      <Tests client={id} />
      <History client={id} entries={history_of(id)} />
      <div class="stack">
        <h3>Services</h3>
        {services.length === 0 && (
          <p>None on this phone. Other phones may have some; they come with the sync.</p>
        )}
        <ul>
          {services.map((service) => (
            <li key={service.id}>
              <Visit service={service} grams={grams} />
              <a class="button" href={address_of("record", service.id)}>
                Print this visit’s record
              </a>
            </li>
          ))}
        </ul>
      </div>
      <NotesSoFar client={id} />
    </section>
  );
}

/** From here the weeks count from today; a client with a visit before comes at its time of day. */
function NextVisitOf({ client, name }: { client: string; name: string }) {
  const after = last_of(client);
  const today_ms = Date.now();
  const planned = next_visit_shown(next_visit(after), today_ms);
  const { planned_at } = after.before ?? {};
  const minute = planned_at ? minute_on_wall(Date.parse(planned_at)) : undefined;
  return (
    <NextVisit
      name={name || "this client"}
      planned={planned && { ...planned, href: address_of("service", planned.id) }}
      onWeeks={(weeks) => void plan_next(after, in_weeks(today_ms, weeks, minute ?? TEN_MIN))}
      onNone={() => void no_next(after)}
    />
  );
}

interface NameFieldProps {
  client: string;
  name: string;
  onName: (name: string) => Promise<unknown>;
}

/** The name can be corrected and not taken away: the records hang on the client, not on the name. */
function NameField({ client, name, onName }: NameFieldProps) {
  const field = useTypedOver("client name", client, name, async (typed) => {
    const wanted = typed.trim();
    if (wanted && wanted !== name) await onName(wanted);
  });
  const typed = field.value;
  const same = clients_named(typed).filter(({ id }) => id !== client).length > 0;
  const wanted = typed.trim();
  return (
    <TextField
      label="Name"
      {...field}
      fault={wanted ? undefined : `A client needs a name. It stays ${name || "empty"}.`}
      note={same ? "Another client has this name. Their number tells them apart." : ""}
    />
  );
}

interface NumberFieldProps {
  client: string;
  number: string;
  onNumber: (number: string) => Promise<unknown>;
}

/** Their number, kept from its first key on. */
function NumberField({ client, number, onNumber }: NumberFieldProps) {
  const field = useTypedOver("client number", client, number, (typed) => onNumber(typed.trim()));
  return <TextField label="Number" {...field} />;
}

function NotesSoFar({ client }: { client: string }) {
  const notes = notes_of_client(client);
  if (notes.length === 0) return null;
  return (
    <div>
      <h3>Notes</h3>
      <ul>
        {notes.map(({ id, text, at, created_at, photo }) => (
          <li key={id}>
            {[date_words(at ?? created_at), text].filter(Boolean).join(": ")}
            {photo && <Photo sha256={photo} words="photo" blob_of={photo_of} />}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** One visit: when, which mix, the result, the notes. */
function Visit({ service, grams }: { service: Service; grams: Grams }) {
  const planned = service.planned_at ?? service.created_at;
  const zones = zones_of(service.id).filter(({ mix, lightener }) => mix || lightener);
  return (
    <a class="visit" href={address_of("service", service.id)}>
      <strong>
        {date_words(planned)}, {time_of_day(Date.parse(planned))}
      </strong>
      <span>{standing_words(service, Date.now())}</span>
      {zones
        .filter(({ first_section_at }) => first_section_at)
        .map((zone) => {
          const hex = foretold(zone)?.colour.hex;
          return (
            <span key={zone.id} class="visit-zone">
              <span class="visit-colour" data-hex={hex} style={{ backgroundColor: hex }} />
              <span>{done_words(zone, grams)}</span>
            </span>
          );
        })}
      {service.result?.words && <span>dry: {service.result.words.replace("_", " ")}</span>}
      {notes_of_service(service.id).map(({ id, text }) => (
        <span key={id} class="quiet">
          “{text}”
        </span>
      ))}
    </a>
  );
}

/** "all over: Cobble 8 violet + Clear, 54 g, 9 minutes on; foretold dry as rinsed: beige". */
function done_words(zone: Zone, grams: Grams): string {
  const { name, mix, lightener, rinsed_at } = zone;
  const what = mix
    ? [mix_words(mix), ...(grams === "shown" ? [weight(grams_of(mix))] : [])].join(", ")
    : `lightener, ${lightener?.kind ?? ""}`;
  const minutes = rinsed_at ? `, ${minutes_words(minutes_on(zone))} on` : "";
  const told = foretold(zone);
  return `${name}: ${what}${minutes}${told ? `; ${told.label}: ${told.colour.words}` : ""}`;
}

/** Returns the next step: a service for this client, now. */
export function ClientStep({ id }: { id: string }) {
  if (!one("client", id).value) return null;
  return (
    <MainStep
      words="New service"
      onTap={async () => go("service", await plan_service(id, at_now()))}
    />
  );
}
