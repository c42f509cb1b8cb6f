// Sections one under the other: one open, visited ones folded to a line, the rest named.
import type { ComponentChildren, JSX } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import { open, reached, type Section } from "../bench/entries";
import { storage_works } from "../device/kept";
import { Fold } from "../parts/fold";
import { later } from "../parts/later";

export const Hair = later<object>(() => import("../screens/hair").then((screen) => screen.Hair), {
  tall: true,
});
export interface SectionOf {
  id: Section;
  name: string;
  /** The section's result, for when it is folded. */
  line: ComponentChildren;
  /** The section's question, while it is still to come. */
  coming: string;
  /** Whether it can be opened before its turn. */
  always?: true;
  inside: () => JSX.Element;
}

interface SectionListProps {
  sections: readonly SectionOf[];
  now: Section;
  /** Whether the page opens at the section itself: the part above it can wait. */
  first?: boolean;
  /** Shown before all else in the open section. */
  notice?: ComponentChildren;
  onOpen?: (section: Section) => void;
}

/** Returns the sections in their order; all before the furthest one reached can be opened again. */
export function SectionList({
  sections,
  now,
  first = false,
  notice,
  onOpen = open,
}: SectionListProps) {
  useHeadingOf(now, first);
  const furthest = sections.findLastIndex(({ id }) => id === now || reached.value.includes(id));
  return (
    <>
      {!storage_works.value && (
        <p>This browser keeps nothing. Your entries go when you close the page.</p>
      )}
      {sections.map(({ id, name, line, coming, always, inside }, place) => {
        const state = id === now ? "open" : place <= furthest || always ? "folded" : "coming";
        return (
          <Fold
            key={id}
            id={id}
            name={name}
            state={state}
            line={state === "coming" ? coming : line}
            onOpen={() => onOpen(id)}
          >
            {state === "open" && notice}
            {state === "open" && inside()}
          </Fold>
        );
      })}
    </>
  );
}

/** Moves eyes, focus and screen reader to the heading of a section that just opened. */
function useHeadingOf(section: Section, first: boolean): void {
  const before = useRef(section);
  // With the section itself: a moment later a key would still go to the step that opened it.
  useLayoutEffect(() => {
    const opened = before.current !== section;
    before.current = section;
    const heading = document.getElementById(`${section}-heading`);
    if (opened) heading?.focus({ preventScroll: true });
    if (opened || first) heading?.scrollIntoView({ block: "start" });
  }, [section]);
}
