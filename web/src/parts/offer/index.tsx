// A whole step in one tap: what it is in bold, and what it would bring along under it.
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
