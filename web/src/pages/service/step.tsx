// The next step of a service that is not at the basin, for the thumb.
import { allow_alarms } from "../../alarm";
import { chosen_formula } from "../../bench/chosen";
import { open } from "../../bench/entries";
import { no_mix } from "../../bench/no_mix";
import { has_wish, wish_missing } from "../../bench/whole_wish";
import { is_for_client, may_start, may_start_now } from "../../gate/held";
import { gate_of } from "../../gate/state";
import { later } from "../../parts/later";
import { MeantButton, MeantStep } from "../../parts/meant";
import { note_tap } from "../../parts/meant/taps";
import { MainStep, Steps } from "../../parts/steps";
import { go } from "../../place";
import { is_mixed } from "../../salon/service/lightening";
import { type Running, running } from "../../salon/service/running";
import {
  end_service,
  last_section_on,
  most_minutes_of,
  move_beginning,
  type Service,
  take,
  type Zone,
} from "../../salon/service/services";
import { note_held } from "../../salon/service/standing";
import { author_first } from "../../salon/who";
import { open_basin } from "../../screens/basin/state";
import { first_section_on } from "./first_section";
import { rinse } from "./rinse";
import { section_shown } from "./zone";

const MixStep = later(() => import("../../screens/mix/step").then((part) => part.MixStep));

/** What holds a service by what the rules last said of it, what only waits for answers last. */
function holding(service: string) {
  const found = gate_of(service).reply?.findings ?? [];
  const holds = found.filter(({ group }) => group !== "good_to_know");
  return [...holds.filter(({ certain }) => certain), ...holds.filter(({ certain }) => !certain)];
}

/** What the thumb does while a clock runs: finish putting it on, then the basin, or the rinse. */
function ClockStep({ clock, zone }: { clock: Running; zone: Zone }) {
  const is_on = async () => {
    await last_section_on(zone);
    open_basin();
  };
  const [words, onTap] = !zone.last_section_at
    ? (["Last section on", () => void is_on()] as const)
    : clock.checks_min
      ? ([`Rinsed: ${clock.zone_name}`, () => void rinse(clock)] as const)
      : (["Back to the basin", open_basin] as const);
  return <MeantButton key={words} {...{ words, onTap }} />;
}

/** Returns the next step of the zone that is on the page. */
export function WholeStep({ service, zone }: { service: Service; zone: Zone }) {
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
  if (now === "safety" && !is_mixed(zone)) {
    return <MainStep words="Next: the hair" onTap={() => open("hair")} />;
  }
  if (now === "hair") {
    return has_wish.value ? (
      <MainStep
        words={zone.work === "lightener" ? "The lightener" : "What to mix"}
        onTap={(event) => {
          note_tap(event);
          open("mix");
        }}
      />
    ) : (
      <MainStep words="Next: the wish" onTap={() => open("wish")} />
    );
  }
  if (now === "mix" && !zone.mix && zone.work !== "lightener") {
    if (no_mix.value) return <MainStep words="Change the wish" onTap={() => open("wish")} />;
    const formula = chosen_formula.value;
    const on = () => {
      if (!formula) return;
      void take(zone.id, formula, most_minutes_of(formula.mix));
    };
    return <MixStep onTap={formula ? on : undefined} />;
  }
  if (!zone.first_section_at) {
    const held = is_for_client(service, zone);
    if (is_mixed(zone) && held && !may_start(service.id)) {
      const see = () => {
        void note_held(service.id, holding(service.id));
        open("safety");
        document.getElementById("safety")?.scrollIntoView();
      };
      return <MainStep words="Held: see why" onTap={see} />;
    }
    const begin = async () => {
      allow_alarms();
      // Asked at this very moment: what was said before may have lapsed.
      await author_first();
      if (held && !(await may_start_now(service.id))) {
        void note_held(service.id, holding(service.id));
        return open("safety");
      }
      await first_section_on(zone);
      open("strip");
    };
    return is_mixed(zone) ? (
      <MeantStep words="First section on" onTap={() => void begin()} />
    ) : (
      <MainStep words="First section on" onTap={undefined} />
    );
  }
  if (clock) {
    return (
      <Steps label="Clock" wide>
        <button type="button" onClick={() => void move_beginning(zone, 1)}>
          −1 min
        </button>
        <ClockStep clock={clock} zone={zone} />
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
    <MeantStep words="End the service" onTap={() => void end_service(service.id)} />
  );
}
