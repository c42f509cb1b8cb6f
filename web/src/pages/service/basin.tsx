// The basin of a service: its zones and looks, put together with the order of work on the head.
import type { ReadonlySignal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import { allow_alarms } from "../../alarm";
import { lay_out } from "../../bench/bench";
import { open } from "../../bench/entries";
import { move_to_say } from "../../device/clock_moves";
import { is_for_client, may_start_now } from "../../gate/held";
import { whole_page } from "../../salon/service/basin";
import {
  client_name,
  last_section_on,
  type Service,
  type Zone,
} from "../../salon/service/services";
import { Basin } from "../../screens/basin";
import { acts_of, type Hands } from "../../screens/basin/acts";
import { type Scene, scene_of, type Work } from "../../screens/basin/scene";
import { BasinStep } from "../../screens/basin/step";
import { minute_of_work, shown_order, watch_schedule } from "../../screens/order/actions";
import { first_section_on } from "./first_section";
import { rinse } from "./rinse";

/** Returns the basin of a service. */
export function ServiceBasin({ service }: { service: Service }) {
  const scene = use_scene(service.id);
  useEffect(() => watch_schedule(service.id), [service.id]);
  const open_zone = (zone: string) => {
    whole_page.value = service.id;
    void lay_out(zone, "strip");
  };
  return (
    <Basin
      client={client_name(service)}
      scene={scene}
      acts={(now) => acts_of(now, hands_of(service))}
      onLightened={open_zone}
    />
  );
}

/** Returns the steps of a service's basin, for the thumb. */
export function ServiceBasinStep({ service }: { service: Service }) {
  const scene = use_scene(service.id).value;
  if (!scene) return null;
  return <BasinStep acts={acts_of(scene, hands_of(service))} />;
}

function hands_of(service: Service): Hands {
  return {
    service: service.id,
    notice: move_to_say.value && "Clock moved",
    onRinsed: (clock) => void rinse(clock),
    onPutOn: (zone) => void put_on(service, zone),
    onLastSection: (zone) => void last_section_on(zone),
  };
}

function use_scene(service: string): ReadonlySignal<Scene | undefined> {
  return useMemo(() => scene_of(service, () => work_on(service)), [service]);
}

function work_on(service: string): Work | undefined {
  const order = shown_order.value;
  return order && { order, now_min: minute_of_work(service) ?? 0 };
}

/** Puts the next zone on, unless something holds the service: then it says what. */
async function put_on(service: Service, zone: Zone): Promise<void> {
  allow_alarms();
  await lay_out(zone.id, "mix");
  if (is_for_client(service, zone) && !(await may_start_now(service.id))) {
    whole_page.value = service.id;
    return open("safety");
  }
  await first_section_on(zone);
  open("strip");
}
