// The page: its sections from the hair to the strip, one open at a time, and the bar with the next
// step. Where it is wide, the strip stands beside the other three and moves with them.
import { signal } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { BeforeYouMix } from "./parts/caution";
import { Fold } from "./parts/fold";
import { chosen_formula } from "./records/chosen";
import { open, open_section, reached, SECTIONS, type Section } from "./records/entries";
import { storage_works } from "./records/kept";
import { Hair } from "./screens/hair";
import { hair_line, live_look } from "./screens/hair/actions";
import { WhatToMix } from "./screens/mix";
import { mix_line } from "./screens/mix/actions";
import { SettingsScreen } from "./screens/settings";
import { OnTheHead } from "./screens/strip";
import { best_minute, look_at, minute_shown, minutes_shown } from "./screens/strip/actions";
import { Wish } from "./screens/wish";
import { has_wish, wish_look, wish_missing, wish_words } from "./screens/wish/actions";
import "./shell.css";

const settings_open = signal(false);

const wide_enough = matchMedia("(min-width: 68rem)");
const wide = signal(wide_enough.matches);
wide_enough.addEventListener("change", () => {
  wide.value = wide_enough.matches;
});

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

/** Returns the whole page. */
export function Shell() {
  // What scrolls is not the document, so it takes the focus for the keys that scroll.
  const first = useRef<HTMLDivElement>(null);
  useEffect(() => first.current?.focus(), []);
  return wide.value ? (
    <div class="frame">
      <Top />
      <main class="columns">
        <div class="column">
          <div ref={first} class="scroll" tabIndex={-1}>
            <Sections />
          </div>
          <Bar />
        </div>
        <div class="column">
          <div class="scroll">
            <section id="strip" class="fold-open" aria-labelledby="strip-heading">
              <h2 id="strip-heading">{NAMES.strip}</h2>
              <div class="stack">
                <OnTheHead />
              </div>
            </section>
            <BeforeYouMix />
          </div>
          <Minutes />
        </div>
      </main>
    </div>
  ) : (
    <div class="frame">
      <div ref={first} class="scroll" tabIndex={-1}>
        <Top />
        <main>
          <Sections />
          <BeforeYouMix />
        </main>
      </div>
      <Bar />
    </div>
  );
}

function Top() {
  return (
    <header class="top">
      <h1>Basinside</h1>
      <button
        type="button"
        aria-expanded={settings_open.value}
        onClick={() => {
          settings_open.value = !settings_open.value;
        }}
      >
        Settings
      </button>
    </header>
  );
}

/** The section that is open: where the strip has its own column, it is never the one. */
function shown(): Section {
  return wide.value && open_section.value === "strip" ? "mix" : open_section.value;
}

function Sections() {
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
      {settings_open.value && (
        <SettingsScreen
          onDone={() => {
            settings_open.value = false;
          }}
        />
      )}
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
    </>
  );
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

function Bar() {
  const now = shown();
  if (now === "hair") return <Main words="Next: the wish" onTap={() => open("wish")} />;
  if (now === "wish") {
    return (
      <Main
        words={has_wish.value ? "What to mix" : wish_missing.value}
        onTap={has_wish.value ? () => open("mix") : undefined}
      />
    );
  }
  if (now === "mix") {
    if (wide.value) return null;
    return <Main words="Mix this" onTap={chosen_formula.value ? () => open("strip") : undefined} />;
  }
  return <Minutes />;
}

function Main({ words, onTap }: { words: string; onTap: (() => void) | undefined }) {
  return (
    <nav class="bar" aria-label="Next step">
      <button type="button" class="bar-main" disabled={!onTap} onClick={onTap}>
        {words}
      </button>
    </nav>
  );
}

/** The strip's own steps, for a thumb that would rather tap than drag. */
function Minutes() {
  const minutes = minutes_shown.value;
  const best = best_minute.value;
  const at = minute_shown.value;
  const to = (minute: number) => (minutes.includes(minute) ? () => look_at(minute) : undefined);
  const earlier = to(at - 1);
  const later = to(at + 1);
  const best_tap = best === undefined ? undefined : to(best);
  return (
    <nav class="bar bar-minutes" aria-label="Minutes">
      <button type="button" disabled={!earlier} onClick={earlier}>
        −1 min
      </button>
      <button type="button" class="bar-main" disabled={!best_tap} onClick={best_tap}>
        {best !== undefined
          ? `Best: minute ${best}`
          : minutes.length > 0
            ? "No best minute"
            : "No strip yet"}
      </button>
      <button type="button" disabled={!later} onClick={later}>
        +1 min
      </button>
    </nav>
  );
}
