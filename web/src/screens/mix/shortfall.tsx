// What stands before the mixes or in place of them: what comes first, why, and the way on.
import type { Shortfall } from "../../api/shapes";
import { open } from "../../bench/entries";
import { first_words, type Lead } from "../../bench/no_mix";

/** Returns what to do when nothing on the shelf comes within the wish's tolerance. */
export function OutOfReach({ shortfall }: { shortfall: Shortfall }) {
  return (
    <div class="notice" role="status">
      <p class="mix-first">{first_words(shortfall)}.</p>
      <p>{shortfall.words}</p>
    </div>
  );
}

/** Returns what leads where no mix is worth making. */
export function NoMix({ lead }: { lead: Lead }) {
  return (
    <div class="notice" role="status">
      <p class="mix-first">{lead.main}.</p>
      <p>{lead.why}</p>
      {lead.changes_hair && (
        <>
          <p>Then enter the hair again, as it is by then.</p>
          <button type="button" onClick={() => open("hair")}>
            Go to the hair
          </button>
        </>
      )}
    </div>
  );
}
