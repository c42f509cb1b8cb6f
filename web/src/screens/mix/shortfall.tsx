// The shelf cannot do it: by how much, which way, and what would help.
import type { Shortfall } from "../../api/shapes";
import { level_words } from "../../parts/words";

const CLASS_WORDS: Record<NonNullable<Shortfall["would_help"]>["class"], string> = {
  alkaline_demi: "an alkaline demi",
  neutral_demi: "a neutral demi",
  acid_demi: "an acid demi",
  permanent: "a permanent",
  direct: "a direct dye",
};

/** Returns what to do when nothing on the shelf comes within the wish's tolerance. */
export function OutOfReach({ shortfall }: { shortfall: Shortfall }) {
  const { lift_first, would_help, words } = shortfall;
  return (
    <div class="notice" role="status">
      {lift_first === undefined ? (
        <p class="mix-first">Your shelf does not reach this wish.</p>
      ) : (
        <p class="mix-first">Lift first, to level {level_words(lift_first)}.</p>
      )}
      <p>{words}</p>
      {would_help && (
        <p>
          One addition would bring it to {would_help.delta_e.toFixed(1)}:{" "}
          {CLASS_WORDS[would_help.class]}, level {level_words(would_help.level)},{" "}
          {would_help.tone.join(" ")}.
        </p>
      )}
    </div>
  );
}
