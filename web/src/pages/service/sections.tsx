// The sections of one zone of a service, from its wish to its result. What is inside each is loaded
// when it is opened, and ahead once the page is there.
import { no_mix } from "../../bench/no_mix";
import { is_for_client } from "../../gate/held";
import { later } from "../../parts/later";
import type { Service, Zone } from "../../salon/service/services";
import { mix_words } from "../../shelf/shelf";
import { Hair, type SectionOf } from "../sections";
import { Safety, safety_line } from "./safety";

const WishOf = later(() => import("./wish").then((part) => part.WishOf), { tall: true });
const MixOf = later(() => import("./mix").then((part) => part.MixOf), { tall: true });
const OnTheHead = later(() => import("./on_the_head").then((part) => part.OnTheHead), {
  tall: true,
});
const ResultOf = later(() => import("./result").then((part) => part.ResultOf), { tall: true });
const HairLine = later<object>(() => import("./lines").then((part) => part.HairLine), {
  after: true,
});
const WishLine = later<object>(() => import("./lines").then((part) => part.WishLine), {
  after: true,
});

/** What the sections show next. */
export const COMING = [WishOf, Safety, Hair, MixOf, OnTheHead, ResultOf];

/** Returns a zone's sections, in their order. */
export function sections_of(service: Service, zone: Zone): SectionOf[] {
  const lightener = zone.work === "lightener";
  const sections: SectionOf[] = [
    {
      id: "wish",
      name: "Wish",
      line: <WishLine />,
      coming: "level and tone to land on",
      inside: () => <WishOf service={service} zone={zone} />,
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
      line: <HairLine />,
      coming: "level, undertone, porosity",
      inside: () => <Hair />,
    },
    {
      id: "mix",
      name: lightener ? "Lightener" : "What to mix",
      line: mix_line_of(zone),
      coming: lightener ? "its developer and its leaflet’s times" : "from your shelf",
      inside: () => <MixOf service={service} zone={zone} />,
    },
    {
      id: "strip",
      name: "On the head",
      line: zone.rinsed_at ? "rinsed" : "minute by minute",
      coming: "minute by minute",
      inside: () => <OnTheHead zone={zone} />,
    },
    {
      id: "result",
      name: "Result",
      line: service.result?.words ?? "",
      coming: "once the hair is dry",
      inside: () => <ResultOf service={service} zone={zone} />,
    },
  ];
  // Of a swatch's few grams nobody asks anything.
  const is_free = !service.client && !is_for_client(service, zone);
  return is_free ? sections.filter(({ id }) => id !== "safety") : sections;
}

/** What was chosen for a zone, in a line, or what comes before any mix. */
function mix_line_of(zone: Zone): string {
  if (zone.mix) return mix_words(zone.mix);
  const said = zone.work === "lightener" ? zone.lightener?.kind : no_mix.value?.main;
  return said ?? "nothing chosen yet";
}
