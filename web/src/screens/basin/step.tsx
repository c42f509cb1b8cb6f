// The acts of the basin as buttons. At twice the text the bar keeps the first alone, beside Help,
// and the others go among what scrolls: each is there twice, and one of the two is shown.
import { HoldButton } from "../../parts/hold";
import { MeantButton } from "../../parts/meant";
import type { Act } from "./acts";

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
  if (again) return <HoldButton name={name} main={main} {...{ words, again }} onHeld={onTap} />;
  // A second tap of the same glove must not rinse what has just come under it.
  if (main) return <MeantButton {...{ words, name, onTap }} />;
  return (
    <button type="button" class={name} onClick={onTap}>
      {words}
    </button>
  );
}
