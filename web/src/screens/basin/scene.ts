// What stands at the basin now: which zone, which act leads, and what is asked first.
import { computed, type ReadonlySignal } from "@preact/signals";
import type { ScheduleReply } from "../../api/shapes";
import { type Doubt, held } from "../../prediction/held";
import { at_the_basin } from "../../salon/service/basin";
import { rinse_from_ms } from "../../salon/service/order";
import { now_ms, type Running, running } from "../../salon/service/running";
import { type Zone, zones_of } from "../../salon/service/services";
import { early_zone, looked_at_zone } from "./state";

/** The act that leads on a head of several zones: put one on, finish putting it on, or the clock. */
export type Lead =
  | { do: "put_on"; zone: Zone; in_min: number }
  | { do: "last_section"; zone: Zone }
  | { do: "clock" };

export interface Scene {
  /** What fills the screen below the order. */
  view: "question" | "early" | "words" | "overview";
  clock: Running;
  zone: Zone;
  doubt?: Doubt;
  /** The zones at the basin, what is due first on top; and those that are to go on. */
  clocks: readonly Running[];
  coming: readonly Zone[];
  /** The zones under a lightener, which have a page of their own. */
  lightened: readonly Running[];
  several: boolean;
  lead: Lead;
  /** Whether the zone may be rinsed without being too early. */
  may_rinse: boolean;
  /** What is said of the whole work. */
  slack?: string;
}

/** The order of work on the head, and how far it is in minutes; undefined for one zone alone. */
export interface Work {
  order: ScheduleReply;
  now_min: number;
}

/** Returns what stands at the basin of a service; undefined once nothing is on it. */
export function scene_of(
  service: string,
  work: () => Work | undefined,
): ReadonlySignal<Scene | undefined> {
  return computed(() => {
    const clocks = at_the_basin(service);
    const [due] = clocks;
    if (!due) return undefined;
    const zones = zones_of(service);
    const in_work = work();
    const coming = coming_of(zones, in_work);
    const lightened = running.value.filter((one) => one.service === service && one.checks_min);
    const several = clocks.length + coming.length + lightened.length > 1;
    const asking = clocks.find(({ zone, most_ms }) => held(zone).doubt && !is_past(most_ms));
    const shown = clocks.find(({ zone }) => zone === looked_at_zone.value);
    const clock = asking ?? shown ?? due;
    const zone = zones.find(({ id }) => id === clock.zone);
    if (!zone) return undefined;
    const { doubt } = held(clock.zone);
    const early = early_zone.value === clock.zone;
    const view = asking ? "question" : early ? "early" : several && !shown ? "overview" : "words";
    const slack_min = in_work?.order.slack_min;
    return {
      ...{ view, clock, zone, clocks, coming, lightened, several },
      ...(doubt && { doubt }),
      lead: view === "overview" ? lead_of(clock, zones, coming, in_work) : { do: "clock" as const },
      may_rinse: is_past(rinse_from_ms(clock) ?? clock.began_ms),
      ...(in_work && slack_min !== undefined && { slack: slack_words(in_work.order) }),
    };
  });
}

/** Whether a time has come; what reads it moves once, when it does. */
function is_past(at_ms: number): boolean {
  return computed(() => now_ms.value >= at_ms).value;
}

/** The zones that are going on, or that the order of work has still to put on. */
function coming_of(zones: readonly Zone[], work: Work | undefined): Zone[] {
  const to_put_on =
    work?.order.steps.flatMap((step) => (step.do === "apply" ? step.zone : [])) ?? [];
  return zones.filter(
    ({ name, first_section_at, last_section_at, work: of }) =>
      of !== "lightener" &&
      !last_section_at &&
      (first_section_at ? true : to_put_on.includes(name ?? "")),
  );
}

/** Returns what leads. A zone that is best rinsed now comes before any that is to be put on. */
function lead_of(
  due: Running,
  zones: readonly Zone[],
  coming: readonly Zone[],
  work: Work | undefined,
): Lead {
  const best_ms = "best" in due.window ? due.began_ms + due.window.best * 60_000 : due.most_ms;
  if (is_past(Math.min(best_ms, due.most_ms))) return { do: "clock" };
  const begun = coming.find(({ first_section_at }) => first_section_at);
  if (begun) return { do: "last_section", zone: begun };
  const [next] = [...(work?.order.steps ?? [])].sort((a, b) => a.starts_min - b.starts_min);
  const zone = zones.find(({ name }) => name === next?.zone);
  if (!work || next?.do !== "apply" || !zone) return { do: "clock" };
  return { do: "put_on", zone, in_min: Math.max(0, next.starts_min - work.now_min) };
}

function slack_words({ slack_min, impossible }: ScheduleReply): string {
  if (slack_min === null) {
    const missed = impossible.map(
      ({ zone, by_min, direction }) =>
        `${zone} ${by_min} min ${direction === "too_late" ? "late" : "early"}`,
    );
    return `Not all land in time: ${missed.join(", ")}.`;
  }
  const spare =
    slack_min === 0 ? "no minute" : slack_min === 1 ? "1 minute" : `${slack_min} minutes`;
  return `All land in time, with ${spare} to spare.`;
}
