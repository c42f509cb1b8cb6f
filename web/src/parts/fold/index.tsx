// A section of the page: open, folded to one line, or still to come.
import type { ComponentChildren } from "preact";
import "./style.css";

interface FoldProps {
  id: string;
  name: string;
  state: "open" | "folded" | "coming";
  /** The section's result or question, in one line. */
  line: ComponentChildren;
  onOpen: () => void;
  children: ComponentChildren;
}

/** Returns the section; its heading is focusable, so that opening it can be announced. */
export function Fold({ id, name, state, line, onOpen, children }: FoldProps) {
  const heading = `${id}-heading`;
  if (state === "open") {
    return (
      <section id={id} class="fold fold-open" aria-labelledby={heading}>
        <h2 id={heading} tabIndex={-1}>
          {name}
        </h2>
        <div class="stack">{children}</div>
      </section>
    );
  }
  return (
    <section id={id} class="fold" aria-labelledby={heading}>
      <h2 id={heading} class="unseen">
        {name}
      </h2>
      {state === "folded" ? (
        <button type="button" class="fold-line" onClick={onOpen}>
          <span class="quiet">{name}</span>
          <span>{line}</span>
          <span class="fold-change">change</span>
        </button>
      ) : (
        <p class="fold-line fold-coming">
          <span class="quiet">{name}</span>
          <span class="quiet">{line}</span>
        </p>
      )}
    </section>
  );
}
