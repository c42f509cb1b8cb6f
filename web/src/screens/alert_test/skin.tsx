// Drawn examples of what a spot of skin can show. Grey drawings with words: no photograph shows
// every skin, and nobody is to go by a colour on a screen.
import type { JSX } from "preact";

/** Blots as x, y and radius, on a field of 120 by 80. */
const BUMPS = [
  [44, 34, 5],
  [58, 28, 4],
  [70, 38, 6],
  [52, 46, 4],
  [66, 52, 5],
] as const;

const MARKS: Record<string, JSX.Element> = {
  clear: <circle cx="60" cy="40" r="24" class="skin-edge" />,
  redness: (
    <>
      <circle cx="60" cy="40" r="26" class="skin-flush" />
      <circle cx="60" cy="40" r="24" class="skin-edge" />
    </>
  ),
  swelling: (
    <>
      <path d="M30 52 Q60 8 90 52 Z" class="skin-raised" />
      <path d="M4 52 H116" class="skin-line" />
    </>
  ),
  blister: (
    <>
      <circle cx="60" cy="40" r="26" class="skin-flush" />
      {BUMPS.map(([x, y, r]) => (
        <circle key={`${x}-${y}`} cx={x} cy={y} r={r} class="skin-bump" />
      ))}
    </>
  ),
};

const EXAMPLES = [
  ["clear", "No reaction", "The skin looks and feels like the skin around it."],
  ["redness", "Redness", "Pinker, darker or warmer than around it. On dark skin: darker or warm."],
  [
    "swelling",
    "Swelling",
    "The spot is raised, or the skin is tight and thick. Run a finger over it.",
  ],
  ["blister", "Blisters", "Small bumps, with water in them or weeping. Do not open them."],
] as const;

/** Returns the four examples, each with its words. */
export function SkinExamples() {
  return (
    <ul class="skin-examples" aria-label="What a spot can show">
      {EXAMPLES.map(([mark, name, words]) => (
        <li key={mark}>
          <svg viewBox="0 0 120 80" aria-hidden="true">
            {MARKS[mark]}
          </svg>
          <p>
            <strong>{name}</strong>
            <br />
            {words}
          </p>
        </li>
      ))}
    </ul>
  );
}
