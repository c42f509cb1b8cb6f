// The sections of one zone of a service, from its wish to its result.
import { useMemo } from "preact/hooks";
import { alarm_words } from "../../alarm";
import { no_mix } from "../../bench/no_mix";
import { told_once } from "../../device/notifications";
import { is_withheld } from "../../gate/held";
import { later } from "../../parts/later";
import { keep_zone } from "../../salon/formulas";
import { is_mixed } from "../../salon/service/lightening";
import { minutes_of, type Running, running } from "../../salon/service/running";
import { client_name, type Service, type Zone } from "../../salon/service/services";
import { open_basin } from "../../screens/basin/state";
import { Hair } from "../../screens/hair";
import { hair_line } from "../../screens/hair/actions";
import { LiveStrip } from "../../screens/strip/live";
import { Wish } from "../../screens/wish";
import { wish_words } from "../../screens/wish/actions";
import { mix_words } from "../../shelf/shelf";
import { hair_shown } from "../colours_shown";
import type { SectionOf } from "../sections";
import { Mix, SameAsLast, Used } from "./mix";
import { Safety, safety_line, Withheld } from "./safety";

const AfterRinse = later(() => import("../after_rinse").then((page) => page.AfterRinse));
const LightenerEntry = later(() =>
  import("../../screens/lighten").then((screen) => screen.LightenerEntry),
);
const UnderLightener = later(() =>
  import("../../screens/lighten/live").then((screen) => screen.UnderLightener),
);
const AfterLightener = later(() =>
  import("../../screens/lighten/after").then((screen) => screen.AfterLightener),
);
const KeepFormula = later(() =>
  import("../../screens/formulas/keep").then((screen) => screen.KeepFormula),
);
const Result = later(() => import("../../screens/result").then((screen) => screen.Result));
const Judge = later(() => import("../../screens/judge").then((screen) => screen.Judge));
const Dried = later(() => import("../../screens/judge/dried").then((screen) => screen.Dried));

/** Returns a zone's sections, in their order. */
export function sections_of(service: Service, zone: Zone): SectionOf[] {
  const clock = running.value.find((one) => one.zone === zone.id);
  const lightener = zone.work === "lightener";
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
      id: "safety",
      name: "Safety",
      line: safety_line(service.id),
      coming: "asked before anything is mixed",
      always: true,
      inside: () => <Safety service={service} />,
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
      name: lightener ? "Lightener" : "What to mix",
      line: mix_line_of(zone),
      coming: lightener ? "its developer and its leaflet’s times" : "from your shelf",
      inside: () => (
        <>
          {is_mixed(zone) && !zone.first_section_at && told_once() && <p>{told_once()}</p>}
          {lightener && zone.rinsed_at ? (
            <Used key={zone.id} service={service}>
              <LightenerEntry zone={zone} />
            </Used>
          ) : lightener ? (
            <LightenerEntry
              key={zone.id}
              zone={zone}
              withheld={is_withheld(service, zone) ? <Withheld service={service} /> : undefined}
            />
          ) : (
            <Mix service={service} zone={zone} />
          )}
        </>
      ),
    },
    {
      id: "strip",
      name: "On the head",
      line: zone.rinsed_at ? "rinsed" : "minute by minute",
      coming: "minute by minute",
      inside: () =>
        clock && lightener ? (
          <>
            <UnderLightener key={zone.id} zone={zone} clock={clock} />
            <p class="quiet">{alarm_words()}</p>
          </>
        ) : clock ? (
          <>
            <LiveStrip clock={clock} />
            <JudgeNow key={zone.id} zone={zone} clock={clock} />
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
          {lightener && zone.rinsed_at && <AfterLightener key={zone.id} zone={zone} />}
          <Result
            service={service}
            dried={zone.mix && zone.rinsed_at ? <Dried key={zone.id} zone={zone} /> : undefined}
          />
          {zone.mix && zone.rinsed_at && <AfterRinse key={zone.id} zone={zone} />}
          {zone.mix && (
            <KeepFormula
              key={zone.id}
              about={zone.id}
              usual={[client_name(service), wish_words.value].filter(Boolean).join(", ")}
              keep={(name) => keep_zone(name, zone, service.client)}
            />
          )}
        </>
      ),
    },
  ];
}

/** What was chosen for a zone, in a line, or what comes before any mix. */
function mix_line_of(zone: Zone): string {
  if (zone.mix) return mix_words(zone.mix);
  const said = zone.work === "lightener" ? zone.lightener?.kind : no_mix.value?.main;
  return said ?? "nothing chosen yet";
}

/** The look at the basin, at the present minute. */
function JudgeNow({ zone, clock }: { zone: Zone; clock: Running }) {
  const minute = useMemo(() => minutes_of(clock), [clock]).value;
  return <Judge zone={zone} minute={minute} onKept={open_basin} />;
}
