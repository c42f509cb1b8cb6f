// The basin: from the last section on to the rinse, all that is needed on one screen, unscrolled.
import { computed, type ReadonlySignal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import { capital } from "../../parts/words";
import { live_order } from "../../prediction/live";
import type { Order } from "../../salon/service/order";
import { minutes_of, now_ms } from "../../salon/service/running";
import type { Act } from "./acts";
import { Early, too_early_min } from "./early";
import { BasinHead, BasinOrder } from "./order";
import { Overview, StripsOf } from "./overview";
import { Question, question_of } from "./question";
import type { Lead, Scene } from "./scene";
import { early_zone, looked_at_zone, tube_asked } from "./state";
import { MoreActs } from "./step";
import { hour_and_minute } from "./time";
import "./style.css";
import "./words.css";
import "./overview.css";
import "./question.css";
import "./bar.css";
import "./room.css";
import "./large.css";
import { LookAround } from "./words";

interface BasinProps {
  client: string;
  scene: ReadonlySignal<Scene | undefined>;
  /** What the thumb may do, the one that stays in the bar first. */
  acts: (scene: Scene) => readonly Act[];
  /** Opens the page of a zone under a lightener. */
  onLightened: (zone: string) => void;
}

/** Returns the basin of a service: one order, the zone that is due, and what a look takes. */
export function Basin({ client, scene, acts, onLightened }: BasinProps) {
  const now = scene.value;
  // A zone that is rinsed, on another phone too, is left.
  useEffect(() => {
    const on = now?.clocks.map(({ zone }) => zone) ?? [];
    if (!on.includes(looked_at_zone.peek())) looked_at_zone.value = "";
    if (!on.includes(early_zone.peek())) early_zone.value = "";
  }, [now?.clocks]);
  // The price was asked for one rinse: undone, the zone is at its order again.
  useEffect(
    () => () => {
      early_zone.value = "";
    },
    [],
  );
  // The question is answered, or another zone's has come.
  const asking = now?.view === "question" ? now.clock.zone : "";
  useEffect(
    () => () => {
      tube_asked.value = "";
    },
    [asking],
  );
  if (!now) return null;
  const { view, clock, zone, clocks, coming, lightened, several, slack } = now;
  const more = <MoreActs acts={acts(now)} />;
  const count = clocks.length + coming.length + lightened.length;
  return (
    <div class={`basin basin-is-${view}`} key={`${view} ${clock.zone}`} data-zone={clock.zone}>
      <div class="basin-top">
        {view === "overview" ? (
          <BasinHead client={client} beside={`${count} zones`} />
        ) : (
          <BasinHead client={client} several={several} clock={clock} />
        )}
        <TheOrder scene={now} />
      </div>
      {view === "question" && now.doubt && <Question doubt={now.doubt} clock={clock} more={more} />}
      {view === "early" && <Early clock={clock} more={more} />}
      {view === "words" && (
        <>
          <div class="basin-strip">
            <StripsOf clocks={[clock]} first={clock.zone} />
          </div>
          <div class="basin-work">
            <LookAround zone={zone} clock={clock} more={more} />
          </div>
        </>
      )}
      {view === "overview" && (
        <Overview
          due={clock}
          others={clocks.filter((other) => other !== clock)}
          coming={coming}
          slack={slack}
          more={more}
          lightened={lightened}
          onLightened={onLightened}
        />
      )}
    </div>
  );
}

/** Apart, since it goes by the clock. */
function TheOrder({ scene }: { scene: Scene }) {
  const { view, clock, lead, doubt, several } = scene;
  const of_clock = useMemo(() => live_order(clock, hour_and_minute), [clock]).value;
  const minute = useMemo(() => minutes_of(clock), [clock]).value;
  if (view === "question" && doubt) return <BasinOrder order={question_of(doubt, clock.zone)} />;
  if (view === "early") return <BasinOrder order={price_of(too_early_min(clock, minute))} />;
  if (lead.do !== "clock") return <BasinOrder order={leading(lead)} />;
  return (
    <BasinOrder
      order={several && view === "overview" ? named(of_clock, clock.zone_name) : of_clock}
    />
  );
}

function price_of(early_min: number): Order {
  return early_min > 0
    ? { verb: `${early_min} min too early`, why: "Most of this is still to come." }
    : { verb: "It is time", why: "The window is open: rinse." };
}

/** Returns the order of work's next act. */
function leading(lead: Exclude<Lead, { do: "clock" }>): Order {
  const { name = "" } = lead.zone;
  if (lead.do === "last_section")
    return { verb: `Finish ${name}`, why: "Its minutes count from its last section." };
  const at = computed(() => hour_and_minute(now_ms.value + lead.in_min * 60_000)).peek();
  const why =
    lead.in_min === 0 ? "Now. The order of work has it next." : `In ${lead.in_min} min, at ${at}.`;
  return { verb: `Put ${name} on`, why };
}

/** Returns an order that names its zone: "Rinse ends"; one that waits keeps its figure large. */
function named(order: Order, name: string): Order {
  switch (order.verb) {
    case "Rinse now":
      return { ...order, verb: `Rinse ${name}` };
    case "Look again":
      return { ...order, verb: `Look at ${name}` };
    case "Saturate again":
      return { ...order, verb: `Saturate ${name}` };
    default:
      return { ...order, why: `${capital(name)}: ${order.why}` };
  }
}
