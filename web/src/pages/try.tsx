// Trying out a mix for hair that is nobody's record: four sections from the hair to the strip, one
// open at a time. Where it is wide, the strip stands beside the other three and moves with them.
import { useEffect } from "preact/hooks";
import { bench_zone, lay_out } from "../bench/bench";
import { chosen_formula, mix_key } from "../bench/chosen";
import { open, open_section, type Section } from "../bench/entries";
import { no_mix } from "../bench/no_mix";
import { has_wish, wish_missing } from "../bench/whole_wish";
import { BeforeYouMix } from "../parts/caution";
import { later, use_ahead } from "../parts/later";
import { MainStep } from "../parts/steps";
import { hair_line } from "../screens/hair/shown";
import { mix_line } from "../screens/mix/actions";
import { Minutes } from "../screens/strip/minutes";
import { wish_words } from "../screens/wish/shown";
import { wide } from "../wide";
import { hair_shown, wish_shown } from "./colours_shown";
import { Hair, SectionList, type SectionOf } from "./sections";

const Wish = later(() => import("../screens/wish").then((screen) => screen.Wish), { tall: true });
const WhatToMix = later(() => import("../screens/mix").then((screen) => screen.WhatToMix), {
  tall: true,
});
const KeepChosen = later(() => import("./keep_chosen").then((part) => part.KeepChosen));
const OnTheHead = later(() => import("../screens/strip").then((screen) => screen.OnTheHead), {
  tall: true,
});
const StartTried = later<object>(() =>
  import("../screens/start").then((screen) => screen.StartTried),
);
const MixStep = later(() => import("../screens/mix/step").then((part) => part.MixStep));
const COMING = [Hair, Wish, WhatToMix, MixStep, KeepChosen, OnTheHead, StartTried];

/** Returns the sections that scroll, without the strip where that has its own column. */
export function Sections() {
  useEffect(() => {
    void lay_out("", "hair");
  }, []);
  use_ahead(COMING);
  const chosen = chosen_formula.value;
  const sections: SectionOf[] = [
    {
      id: "hair",
      name: "Hair",
      line: hair_line.value,
      coming: "level, undertone, porosity",
      inside: () => <Hair />,
    },
    {
      id: "wish",
      name: "Wish",
      line: wish_words.value || "not chosen yet",
      coming: "level and tone to land on",
      inside: () => <Wish hair={hair_shown()} />,
    },
    {
      id: "mix",
      name: "What to mix",
      line: mix_line.value,
      coming: "from your shelf",
      inside: () => (
        <>
          <WhatToMix hair={hair_shown()} wish={wish_shown()} />
          {chosen && (
            <KeepChosen key={mix_key(chosen.mix)} chosen={chosen} usual={wish_words.value} />
          )}
        </>
      ),
    },
    {
      id: "strip",
      name: "On the head",
      line: "minute by minute",
      coming: "minute by minute",
      inside: () => <OnTheHead start={<StartTried />} />,
    },
  ];
  return (
    <>
      <p class="quiet">For nobody’s head. Start it for a client under the plan.</p>
      <SectionList
        sections={sections.filter(({ id }) => !(wide.value && id === "strip"))}
        now={shown()}
      />
      {!wide.value && <BeforeYouMix />}
    </>
  );
}

/** Returns the strip's own column, for where it is wide. */
export function StripBeside() {
  return (
    <>
      <section id="strip" class="fold-open" aria-labelledby="strip-heading">
        <h2 id="strip-heading">On the head</h2>
        <div class="stack">
          <OnTheHead start={<StartTried />} />
        </div>
      </section>
      <BeforeYouMix />
    </>
  );
}

/** Returns the next step from the section that is open; null where the strip's own steps serve. */
export function NextStep() {
  const now = shown();
  if (now === "hair") {
    // While a service is still laid out, a tap would be for its wish.
    const on = bench_zone.value ? undefined : () => open("wish");
    return <MainStep words="Next: the wish" onTap={on} />;
  }
  if (now === "wish") {
    return (
      <MainStep
        words={has_wish.value ? "What to mix" : wish_missing.value}
        onTap={has_wish.value ? () => open("mix") : undefined}
      />
    );
  }
  if (now === "mix") {
    if (no_mix.value) return <MainStep words="Change the wish" onTap={() => open("wish")} />;
    return (
      <MixStep beside={wide.value} onTap={chosen_formula.value ? () => open("strip") : undefined} />
    );
  }
  return no_mix.value ? (
    <MainStep words="Back to what to mix" onTap={() => open("mix")} />
  ) : (
    <Minutes />
  );
}

/** The section that is open: where the strip has its own column, it is never the one. */
function shown(): Section {
  // Until the try-out is laid out, the section that is open is a service's.
  if (bench_zone.value) return "hair";
  const section = open_section.value;
  if (section === "strip" && wide.value) return "mix";
  return section === "safety" || section === "result" ? "hair" : section;
}
