// The same mix on other hair: which to show, and what each would be at the minute looked at.
import type { Window } from "../../api/shapes";
import { what_ifs_shown } from "../../bench/entries";
import { WHAT_IF_ORDER, WHAT_IFS, type WhatIf, what_if_hair } from "../../bench/what_ifs";
import { what_ifs } from "../../engine/questions";
import { window_words } from "../../parts/strip/window";
import { capital, colour_words } from "../../parts/words";
import { toggle } from "./actions";

/** Returns the list; each is a switch, with its words once it is shown. */
export function WhatIfs({ minute }: { minute: number }) {
  const shown = what_ifs_shown.value;
  const numbered = WHAT_IF_ORDER.filter(
    (name) => shown.includes(name) && what_ifs[name].asked.value.state === "answered",
  );
  return (
    <div class="what-ifs">
      <h3>The same mix on hair that is</h3>
      {numbered.length > 0 && <p>1 this hair, as entered</p>}
      {WHAT_IF_ORDER.map((name) => {
        const hair = what_if_hair.value[name];
        const cannot = typeof hair === "string" ? hair : undefined;
        const number = numbered.indexOf(name);
        return (
          <div key={name} class="what-if">
            <button
              type="button"
              aria-pressed={shown.includes(name) && !cannot}
              disabled={cannot !== undefined}
              onClick={() => toggle(name)}
            >
              {number >= 0 && `${number + 2} `}
              {WHAT_IFS[name].name}
            </button>
            <p class={cannot ? "quiet" : ""}>{cannot ?? words_of(name, minute)}</p>
          </div>
        );
      })}
    </div>
  );
}

function sentence(window: Window): string {
  return `${capital(window_words(window)).replace(/\.$/, "")}.`;
}

function words_of(name: WhatIf, minute: number): string {
  const asked = what_ifs[name].asked.value;
  if (asked.state === "nothing") return "";
  if (asked.state === "working") return "Working it out…";
  if (asked.state === "failed") return asked.sentence;
  const { strip, window } = asked.answer.reply;
  const at = strip.find((row) => row.minute === minute);
  return at ? `Dry: ${colour_words(at.if_rinsed)}. ${sentence(window)}` : sentence(window);
}
