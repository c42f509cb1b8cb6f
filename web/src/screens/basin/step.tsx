// What the thumb does at the basin: the one main act, white; the rest beside it.
import type { ComponentChildren } from "preact";
import { HoldButton } from "../../parts/hold";
import { whole_page } from "../../salon/service/basin";
import { take_back_look, trust_look } from "../../salon/service/looks";
import type { Running } from "../../salon/service/running";
import type { Zone } from "../../salon/service/services";
import { ruled_out } from "./question";
import type { Scene } from "./scene";
import { early_zone, looked_at_zone } from "./state";
import { sentence_case } from "./time";

interface BasinStepProps {
  service: string;
  scene: Scene;
  onRinsed: (clock: Running) => void;
  onPutOn: (zone: Zone) => void;
  onLastSection: (zone: Zone) => void;
  /** What keeps from reading the minutes as they stand, and is said on the whole page. */
  notice?: string | undefined;
}

/** Returns the steps of the basin, for what stands there now. */
export function BasinStep({ service, scene, notice, ...acts }: BasinStepProps) {
  const { view, clock, zone, lead, may_rinse, several, doubt } = scene;
  const name = clock.zone_name;
  const rinse = () => {
    early_zone.value = "";
    acts.onRinsed(clock);
  };
  if (view === "question" && doubt) {
    return (
      <Row>
        <Main
          words="Read it again"
          onTap={() => {
            looked_at_zone.value = several ? clock.zone : "";
            void take_back_look(doubt.look);
          }}
        />
        <button type="button" onClick={() => void take_back_look(doubt.look)}>
          Remove it
        </button>
        <HoldButton
          words="Press long: it is right"
          again="Press again: it is right"
          onHeld={() => {
            ruled_out.value = new Set();
            void trust_look(doubt.look);
          }}
        />
        <RinseIt {...{ clock, may_rinse, rinse }} />
      </Row>
    );
  }
  if (view === "early") {
    return (
      <Row>
        {may_rinse ? (
          <Main words={`Rinsed: ${name}`} onTap={rinse} />
        ) : (
          <HoldButton
            main
            words={`Hold: ${name} is rinsed`}
            again={`Press again: ${name} is rinsed`}
            onHeld={rinse}
          />
        )}
        <button
          type="button"
          onClick={() => {
            early_zone.value = "";
          }}
        >
          Keep it on
        </button>
      </Row>
    );
  }
  return (
    <Row>
      {lead.do === "put_on" && (
        <Main words={`Put ${lead.zone.name ?? ""} on`} onTap={() => acts.onPutOn(lead.zone)} />
      )}
      {lead.do === "last_section" && (
        <Main
          words={`Last section on: ${lead.zone.name ?? ""}`}
          onTap={() => acts.onLastSection(lead.zone)}
        />
      )}
      {lead.do === "clock" && may_rinse && <Main words={`Rinsed: ${name}`} onTap={rinse} />}
      {(lead.do !== "clock" || !may_rinse) && <RinseIt {...{ clock, may_rinse, rinse }} />}
      {view === "overview" && (
        <button
          type="button"
          class="basin-look"
          onClick={() => {
            looked_at_zone.value = zone.id;
          }}
        >
          {sentence_case(name)}: looks different
        </button>
      )}
      {view === "words" && several && (
        <button
          type="button"
          onClick={() => {
            looked_at_zone.value = "";
          }}
        >
          All zones
        </button>
      )}
      {(view === "words" || notice) && (
        <button
          type="button"
          class="basin-whole"
          onClick={() => {
            whole_page.value = service;
          }}
        >
          {notice ?? "Whole strip"}
        </button>
      )}
    </Row>
  );
}

interface RinseItProps {
  clock: Running;
  may_rinse: boolean;
  rinse: () => void;
}

/** The way to the rinse where something else leads: one tap in the window, its price before it. */
function RinseIt({ clock, may_rinse, rinse }: RinseItProps) {
  if (may_rinse) {
    return (
      <button type="button" onClick={rinse}>
        Rinsed: {clock.zone_name}
      </button>
    );
  }
  return (
    <button
      type="button"
      onClick={() => {
        early_zone.value = clock.zone;
      }}
    >
      Rinse early…
    </button>
  );
}

function Row({ children }: { children: ComponentChildren }) {
  return (
    <nav class="steps basin-steps" aria-label="Next step">
      {children}
    </nav>
  );
}

function Main({ words, onTap }: { words: string; onTap: () => void }) {
  return (
    <button type="button" class="step-main" onClick={onTap}>
      {words}
    </button>
  );
}
