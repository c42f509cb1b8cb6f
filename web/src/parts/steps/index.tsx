// What the thumb does next: the one main step of a page, full width, above what is always there.
import "./style.css";

/** Returns the main step; without `onTap` it says what is missing and cannot be tapped. */
export function MainStep({ words, onTap }: { words: string; onTap: (() => void) | undefined }) {
  return (
    <nav class="steps" aria-label="Next step">
      <button type="button" class="step-main" disabled={!onTap} onClick={onTap}>
        {words}
      </button>
    </nav>
  );
}
