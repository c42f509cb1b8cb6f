// Trying out a mix for hair that is nobody's record: four sections from the hair to the strip, one
// open at a time. Where it is wide, the strip stands beside the other three and moves with them.
import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { BeforeYouMix } from "../parts/caution";
import { Fold } from "../parts/fold";
import { MainStep } from "../parts/steps";
import { chosen_formula } from "../records/chosen";
import { open, open_section, reached, SECTIONS, type Section } from "../records/entries";
import { storage_works } from "../records/kept";
import { Hair } from "../screens/hair";
import { hair_line, live_look } from "../screens/hair/actions";
import { WhatToMix } from "../screens/mix";
import { mix_line } from "../screens/mix/actions";
import { OnTheHead } from "../screens/strip";
import { Minutes } from "../screens/strip/minutes";
import { Wish } from "../screens/wish";
import { has_wish, wish_look, wish_missing, wish_words } from "../screens/wish/actions";
import { wide } from "../wide";

const NAMES: Record<Section, string> = {
  hair: "Hair",
  wish: "Wish",
  mix: "What to mix",
  strip: "On the head",
};

const COMING: Record<Section, string> = {
  hair: "level, undertone, porosity",
  wish: "level and tone to land on",
  mix: "from your shelf",
  strip: "minute by minute",
};

/** Returns the sections that scroll, without the strip where that has its own column. */
export function Sections() {
  const now = shown();
  useHeadingOf(now);
  const lines: Record<Section, string> = {
    hair: hair_line.value,
    wish: wish_words.value || "not chosen yet",
    mix: mix_line.value,
    strip: "minute by minute",
  };
  const hair = { hex: live_look.value?.dry, words: live_look.value?.words ?? " " };
  const wish = { hex: wish_look.value, words: wish_words.value || " " };
  const inside: Record<Section, () => JSX.Element> = {
    hair: () => <Hair />,
    wish: () => <Wish hair={hair} />,
    mix: () => <WhatToMix hair={hair} wish={wish} />,
    strip: () => <OnTheHead />,
  };
  return (
    <>
      {!storage_works.value && (
        <p>This browser keeps nothing: what you enter is gone when the page is closed.</p>
      )}
      {SECTIONS.filter((section) => !(wide.value && section === "strip")).map((section) => {
        const known = SECTIONS.indexOf(section) <= SECTIONS.indexOf(reached.value);
        const state = section === now ? "open" : known ? "folded" : "coming";
        return (
          <Fold
            key={section}
            id={section}
            name={NAMES[section]}
            state={state}
            line={state === "coming" ? COMING[section] : lines[section]}
            onOpen={() => open(section)}
          >
            {state === "open" && inside[section]()}
          </Fold>
        );
      })}
      {!wide.value && <BeforeYouMix />}
    </>
  );
}

/** Returns the strip's own column, for where it is wide. */
export function StripBeside() {
  return (
    <>
      <section id="strip" class="fold-open" aria-labelledby="strip-heading">
        <h2 id="strip-heading">{NAMES.strip}</h2>
        <div class="stack">
          <OnTheHead />
        </div>
      </section>
      <BeforeYouMix />
    </>
  );
}

/** Returns the next step from the section that is open; null where the strip's own steps serve. */
export function NextStep() {
  const now = shown();
  if (now === "hair") return <MainStep words="Next: the wish" onTap={() => open("wish")} />;
  if (now === "wish") {
    return (
      <MainStep
        words={has_wish.value ? "What to mix" : wish_missing.value}
        onTap={has_wish.value ? () => open("mix") : undefined}
      />
    );
  }
  if (now === "mix") {
    if (wide.value) return null;
    return (
      <MainStep words="Mix this" onTap={chosen_formula.value ? () => open("strip") : undefined} />
    );
  }
  return <Minutes />;
}

/** The section that is open: where the strip has its own column, it is never the one. */
function shown(): Section {
  return wide.value && open_section.value === "strip" ? "mix" : open_section.value;
}

/** Takes eyes, focus and screen reader to the heading of a section that has just been opened. */
function useHeadingOf(section: Section): void {
  const before = useRef(section);
  useEffect(() => {
    if (before.current === section) return;
    before.current = section;
    const heading = document.getElementById(`${section}-heading`);
    heading?.focus({ preventScroll: true });
    heading?.scrollIntoView({ block: "start" });
  }, [section]);
}
