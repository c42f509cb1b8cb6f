// A whole step in one tap: the step in bold, and its consequences under it.
import "./style.css";

/** Returns the button. */
export function Offer({ name, words, onTap }: { name: string; words: string; onTap: () => void }) {
  return (
    <button type="button" class="offer" onClick={onTap}>
      <strong>{name}</strong>
      <span>{words}</span>
    </button>
  );
}
