// What came of it, once the hair is dry: mostly filled in already.

import type { ComponentChildren } from "preact";
import { useEffect } from "preact/hooks";
import { Choice } from "../../parts/choice";
import { Patch } from "../../parts/patch";
import { minutes_words } from "../../parts/words";
import {
  foretold,
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

/** Returns what was foretold, and the question how it dried. */
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
          {mixed.map((zone) => {
            const { label = "nothing foretold", colour } = foretold(zone) ?? {};
            return (
              <Patch
                key={zone.id}
                label={`${zone.name}, ${label}`}
                hex={colour?.hex}
                words={`${colour?.words ?? ""}: ${done_words(zone)}`}
              />
            );
          })}
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
    </>
  );
}

/** Returns what was mixed for a zone and how long it was on. */
function done_words(zone: Zone): string {
  const minutes = zone.rinsed_at ? `, ${minutes_words(minutes_on(zone))} on` : "";
  return `${zone.mix ? mix_words(zone.mix) : ""}${minutes}`;
}
