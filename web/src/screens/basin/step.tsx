// The acts of the basin as buttons. At twice the text the bar keeps the first alone, beside Help,
// and the others go among what scrolls: each is there twice, and one of the two is shown.
import { useState } from "preact/hooks";
import { HoldButton } from "../../parts/hold";
import type { Act } from "./acts";
import { is_meant, is_settling } from "./meant";

/** Returns the steps of the basin, for the thumb. */
export function BasinStep({ acts }: { acts: readonly Act[] }) {
  return (
    <nav class="steps basin-steps" aria-label="Next step">
      {acts.map((act, place) => (
        <ActButton key={act.words} act={act} name={place === 0 ? "" : "basin-more"} />
      ))}
    </nav>
  );
}

/** Returns the acts that have no room in the bar at twice the text. */
export function MoreActs({ acts }: { acts: readonly Act[] }) {
  return (
    <div class="basin-twice">
      {acts.slice(1).map((act) => (
        <ActButton key={act.words} act={act} name="" />
      ))}
    </div>
  );
}

function ActButton({ act, name }: { act: Act; name: string }) {
  const { words, main = false, again, onTap } = act;
  // A second tap of the same glove must not rinse what has just come under it.
  const [settles] = useState(() => main && is_settling());
  if (again) return <HoldButton name={name} main={main} {...{ words, again }} onHeld={onTap} />;
  const looks = `${main ? "step-main " : ""}${settles ? "basin-settles " : ""}${name}`;
  return (
    <button
      type="button"
      class={looks.trim()}
      onClick={(event) => {
        if (!main || is_meant(event)) onTap();
      }}
    >
      {words}
    </button>
  );
}
