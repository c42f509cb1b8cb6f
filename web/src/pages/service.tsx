// One service from top to bottom: wish, hair, mix, on the head, result. One section open at a time,
// of one zone at a time; what runs stays in the bar.

import { useEffect } from "preact/hooks";
import { alarm_words, allow_alarms } from "../alarm";
import { BeforeYouMix, CautionLine } from "../parts/caution";
import { later } from "../parts/later";
import { Offer } from "../parts/offer";
import { MainStep, Steps } from "../parts/steps";
import { address_of, go } from "../place";
import { bench_zone, lay_out, lay_out_as_kept } from "../records/bench";
import { chosen_formula } from "../records/chosen";
import { notes_of_service } from "../records/clients";
import { open, open_section, type Section } from "../records/entries";
import { keep_zone } from "../records/formulas";
import { one, records_ready } from "../records/read";
import { minute_of, now_ms, running } from "../records/running";
import {
  choose_again,
  client_name,
  end_service,
  first_section_on,
  last_section_on,
  last_service,
  most_minutes_of,
  move_beginning,
  rinsed,
  type Service,
  same_as,
  take,
  type Zone,
  zones_of,
} from "../records/services";
import { mix_words } from "../records/shelf";
import { day_words } from "../records/when";
import { KeepFormula } from "../screens/formulas/keep";
import { Hair } from "../screens/hair";
import { hair_line } from "../screens/hair/actions";
import { WhatToMix } from "../screens/mix";
import { Notes } from "../screens/note";
import { Result } from "../screens/result";
import { LiveStrip } from "../screens/strip/live";
import { Wish } from "../screens/wish";
import { has_wish, wish_missing, wish_words } from "../screens/wish/actions";
import { Zones } from "../screens/zones";
import { hair_shown, wish_shown } from "./looks";
import { SectionList, type SectionOf } from "./sections";

const AfterRinse = later(() => import("./after_rinse").then((page) => page.AfterRinse));
const Judge = later(() => import("../screens/judge").then((screen) => screen.Judge));
const OrderOfWork = later(() => import("../screens/order").then((screen) => screen.OrderOfWork));
const Weigh = later(() => import("../screens/weigh").then((screen) => screen.Weigh));

/** Returns a service's page, open at the zone and section it has come to. */
export function ServicePage({ id }: { id: string }) {
  const service = one("service", id).value;
  const zone = service && zone_shown(service);
  useEffect(() => {
    if (zone) void lay_out(zone.id, section_of(zone));
  }, [zone?.id]);
  if (!records_ready.value) return <p class="quiet">Opening what is kept on this phone…</p>;
  if (!service || !zone) {
    return (
      <div class="stack">
        <p>This service is not on this phone.</p>
        <a class="button" href={address_of("today")}>
          Go to today
        </a>
      </div>
    );
  }
  const notes = notes_of_service(id);
  return (
    <>
      <div class="service-head">
        <h2>
          <a href={address_of("client", service.client ?? "")}>{client_name(service)}</a>
        </h2>
        <p class="quiet">{service.planned_at ? day_words(service.planned_at) : ""}</p>
      </div>
      <Zones service={service} />
      {zones_of(id).length > 1 && <OrderOfWork service_id={id} />}
      <SectionList sections={sections_of(service, zone)} now={section_shown(zone)} />
      <details class="service-notes">
        <summary>Notes{notes.length > 0 ? `, ${notes.length}` : ""}</summary>
        <Notes about={{ service: id }} notes={notes} />
      </details>
      <BeforeYouMix />
    </>
  );
}

function sections_of(service: Service, zone: Zone): SectionOf[] {
  const clock = running.value.find((one) => one.zone === zone.id);
  return [
    {
      id: "wish",
      name: "Wish",
      line: wish_words.value || "not chosen yet",
      coming: "level and tone to land on",
      inside: () => (
        <>
          <SameAsLast service={service} zone={zone} />
          <Wish hair={hair_shown()} />
        </>
      ),
    },
    {
      id: "hair",
      name: "Hair",
      line: hair_line.value,
      coming: "level, undertone, porosity",
      inside: () => <Hair />,
    },
    {
      id: "mix",
      name: "What to mix",
      line: zone.mix ? mix_words(zone.mix) : "nothing chosen yet",
      coming: "from your shelf",
      inside: () =>
        zone.mix ? <Taken zone={zone} /> : <WhatToMix hair={hair_shown()} wish={wish_shown()} />,
    },
    {
      id: "strip",
      name: "On the head",
      line: zone.rinsed_at ? "rinsed" : "minute by minute",
      coming: "minute by minute",
      inside: () =>
        clock ? (
          <>
            <LiveStrip clock={clock} />
            <Judge key={zone.id} zone={zone} minute={minute_of(clock, now_ms.value)} />
            <p class="quiet">{alarm_words()}</p>
          </>
        ) : (
          <p>
            {zone.rinsed_at ? "This zone is rinsed." : "The clock starts with the first section."}
          </p>
        ),
    },
    {
      id: "result",
      name: "Result",
      line: service.result?.words ?? "",
      coming: "once the hair is dry",
      inside: () => (
        <>
          <Result service={service} />
          {zone.mix && zone.rinsed_at && <AfterRinse key={zone.id} zone={zone} />}
          {zone.mix && (
            <KeepFormula
              key={zone.id}
              usual={[client_name(service), wish_words.value].filter(Boolean).join(", ")}
              keep={(name) => keep_zone(name, zone, service.client)}
            />
          )}
        </>
      ),
    },
  ];
}

/** What a regular had the last time, in one tap. */
function SameAsLast({ service, zone }: { service: Service; zone: Zone }) {
  const last = service.client ? last_service(service.client) : undefined;
  if (!last || zone.mix || zone.first_section_at) return null;
  const words = zones_of(last.id).flatMap(({ mix }) => (mix ? [mix_words(mix)] : []));
  return (
    <Offer
      name="Same as last time"
      words={`${words.join("; ")}, ${last.planned_at ? day_words(last.planned_at) : ""}`}
      onTap={async () => {
        await same_as(last.id, service.id);
        lay_out_as_kept(zone.id, "mix");
      }}
    />
  );
}

/** The mix that was taken, as grams. */
function Taken({ zone }: { zone: Zone }) {
  if (!zone.mix) return null;
  return (
    <>
      <Weigh key={zone.id} zone={zone} />
      {!zone.first_section_at && (
        <button type="button" onClick={() => void choose_again(zone.id)}>
          Another mix instead
        </button>
      )}
      <CautionLine />
    </>
  );
}

/** Returns the next step of a service, for the thumb. */
export function ServiceStep({ id }: { id: string }) {
  const service = one("service", id).value;
  const zone = service && zone_shown(service);
  if (!service || !zone) return null;
  const now = section_shown(zone);
  const clock = running.value.find((one) => one.zone === zone.id);
  if (now === "wish") {
    return (
      <MainStep
        words={has_wish.value ? "Next: the hair" : wish_missing.value}
        onTap={has_wish.value ? () => open("hair") : undefined}
      />
    );
  }
  if (now === "hair") {
    return has_wish.value ? (
      <MainStep words="What to mix" onTap={() => open("mix")} />
    ) : (
      <MainStep words="Next: the wish" onTap={() => open("wish")} />
    );
  }
  if (now === "mix" && !zone.mix) {
    const formula = chosen_formula.value;
    const on = formula && (() => void take(zone.id, formula, most_minutes_of(formula.mix)));
    return <MainStep words="Mix this" onTap={on || undefined} />;
  }
  if (!zone.first_section_at) {
    const begin = async () => {
      allow_alarms();
      await first_section_on(zone);
      open("strip");
    };
    return <MainStep words="First section on" onTap={zone.mix ? begin : undefined} />;
  }
  if (clock) {
    return (
      <Steps label="Clock">
        <button type="button" onClick={() => void move_beginning(zone, 1)}>
          −1 min
        </button>
        {zone.last_section_at ? (
          <button
            type="button"
            class="step-main"
            onClick={async () => {
              await rinsed(clock);
              const next = running.value.find((one) => one.service === service.id);
              if (next) await lay_out(next.zone, "strip");
              else open("result");
            }}
          >
            Rinsed
          </button>
        ) : (
          <button type="button" class="step-main" onClick={() => void last_section_on(zone)}>
            Last section on
          </button>
        )}
        <button type="button" onClick={() => void move_beginning(zone, -1)}>
          +1 min
        </button>
      </Steps>
    );
  }
  if (now !== "result") return <MainStep words="Next: the result" onTap={() => open("result")} />;
  return service.state === "ended" ? (
    <MainStep words="Back to today" onTap={() => go("today")} />
  ) : (
    <MainStep words="End the service" onTap={() => void end_service(service.id)} />
  );
}

function zone_shown(service: Service): Zone | undefined {
  const zones = zones_of(service.id);
  return zones.find(({ id }) => id === bench_zone.value) ?? zones[0];
}

/** Where a zone has come to. */
function section_of(zone: Zone): Section {
  if (zone.rinsed_at) return "result";
  if (zone.first_section_at) return "strip";
  return zone.mix ? "mix" : "wish";
}

function section_shown(zone: Zone): Section {
  return bench_zone.value === zone.id ? open_section.value : section_of(zone);
}
