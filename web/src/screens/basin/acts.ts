// What the thumb may do at the basin, for what stands there now: the first is what stays in the bar
// however large the text is, and one of them is the white one.

import { capital } from "../../parts/words";
import { whole_page } from "../../salon/service/basin";
import { take_back_look, trust_look } from "../../salon/service/looks";
import type { Running } from "../../salon/service/running";
import type { Zone } from "../../salon/service/services";
import { ruled_out } from "./causes";
import type { Scene } from "./scene";
import { early_zone, looked_at_zone, tube_asked } from "./state";

export interface Act {
  words: string;
  /** The one that leads: white. */
  main?: boolean;
  /** It takes a hold; a press of a key asks this, and takes a second one. */
  again?: string;
  onTap: () => void;
}

export interface Hands {
  service: string;
  onRinsed: (clock: Running) => void;
  onPutOn: (zone: Zone) => void;
  onLastSection: (zone: Zone) => void;
  /** What keeps from reading the minutes as they stand, and is said on the whole page. */
  notice?: string | undefined;
}

/** Returns the acts, the one that stays in the bar first. */
export function acts_of(scene: Scene, hands: Hands): Act[] {
  if (scene.view === "question" && scene.doubt) return acts_of_question(scene, hands);
  if (scene.view === "early") return acts_of_early(scene, hands);
  const { view, clock, zone, lead, may_rinse, several } = scene;
  const { notice, service, onPutOn, onLastSection } = hands;
  const acts: Act[] = [];
  if (lead.do === "put_on") {
    const { name = "" } = lead.zone;
    acts.push({ main: true, words: `Put ${name} on`, onTap: () => onPutOn(lead.zone) });
  }
  if (lead.do === "last_section") {
    const { name = "" } = lead.zone;
    acts.push({
      main: true,
      words: `Last section on: ${name}`,
      onTap: () => onLastSection(lead.zone),
    });
  }
  acts.push({ ...rinse_of(scene, hands), main: lead.do === "clock" && may_rinse });
  if (view === "overview") {
    acts.push({
      words: `${capital(clock.zone_name)}: looks different`,
      onTap: () => {
        looked_at_zone.value = zone.id;
      },
    });
  }
  if (view === "words" && several) {
    acts.push({
      words: "All zones",
      onTap: () => {
        looked_at_zone.value = "";
      },
    });
  }
  if (view === "words" || notice) {
    acts.push({
      words: notice ?? "Whole strip",
      onTap: () => {
        whole_page.value = service;
      },
    });
  }
  return acts;
}

/** The way to the rinse: one tap in the window, its price before it. */
function rinse_of({ clock, may_rinse }: Scene, { onRinsed }: Hands): Act {
  if (may_rinse) return { words: `Rinsed: ${clock.zone_name}`, onTap: () => onRinsed(clock) };
  return {
    words: "Rinse early…",
    onTap: () => {
      early_zone.value = clock.zone;
    },
  };
}

function acts_of_question(scene: Scene, hands: Hands): Act[] {
  const { clock, doubt, several } = scene;
  if (!doubt) return [];
  if (tube_asked.value) {
    const back = () => {
      tube_asked.value = "";
    };
    return [{ words: "Back to the question", onTap: back }, rinse_of(scene, hands)];
  }
  return [
    {
      main: true,
      words: "Read it again",
      onTap: () => {
        looked_at_zone.value = several ? clock.zone : "";
        void take_back_look(doubt.look);
      },
    },
    { words: "Remove it", onTap: () => void take_back_look(doubt.look) },
    {
      words: "Press long: it is right",
      again: "Press again: it is right",
      onTap: () => {
        ruled_out.value = new Set();
        void trust_look(doubt.look);
      },
    },
    rinse_of(scene, hands),
  ];
}

function acts_of_early({ clock, may_rinse }: Scene, { onRinsed }: Hands): Act[] {
  const name = clock.zone_name;
  // The price stays until the rinse is written down: the basin lets go of a zone that is not on.
  const onTap = () => onRinsed(clock);
  return [
    may_rinse
      ? { main: true, words: `Rinsed: ${name}`, onTap }
      : {
          ...{ main: true, words: `Hold: ${name} is rinsed` },
          ...{ again: `Press again: ${name} is rinsed`, onTap },
        },
    {
      words: "Keep it on",
      onTap: () => {
        early_zone.value = "";
      },
    },
  ];
}
