// One line for the colourist's own hands and lungs, before it is too late for it.
import { computed } from "@preact/signals";
import { useMemo } from "preact/hooks";
import { may_mix } from "../../gate/held";
import { one } from "../../records/read";
import { type GlovesMoment, gloves_moment, gloves_seen } from "../../salon/service/gloves";
import "./style.css";

// Sources: HSE, "Preventing dermatitis" for hairdressers (gloves, drying, moisturising), and HSE,
// "COSHH and hairdressers" (dusty persulphates and henna; keep the place airy); both read.
const WORDS: Record<GlovesMoment, string> = {
  mixing: "Put gloves on: non-latex, long cuff, fresh for each client. Mix powder in moving air.",
  rinsing: "Put fresh gloves on for rinse and shampoo. Then dry your hands and use cream.",
};

/** Returns the words for a service's present moment, until they are put away. */
export function HandsNow({ service }: { service: string }) {
  const moment = useMemo(() => computed(() => gloves_moment(service)), [service]).value;
  // While something holds the service nobody mixes, and the questions need the room.
  if (moment === "mixing" && one("service", service).value?.client && !may_mix(service))
    return null;
  return moment ? <Hands moment={moment} service={service} /> : null;
}

/** Returns the words of one moment. */
export function Hands({ moment, service }: { moment: GlovesMoment; service: string }) {
  return (
    <section class="hands" aria-label="Your hands and the air">
      <p>{WORDS[moment]}</p>
      <button type="button" onClick={() => gloves_seen(service, moment)}>
        Done
      </button>
      <p class="quiet">Source: HSE, skin at work in hairdressing; COSHH for hairdressers.</p>
    </section>
  );
}
