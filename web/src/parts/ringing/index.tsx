// The ringing moment, in words as large as the rest of the bar: for a person who cannot hear it.
import "./style.css";

interface RingingProps {
  words: string;
  href: string;
  onHeard: () => void;
}

/** Returns the bar; it stays until it is tapped. */
export function Ringing({ words, href, onHeard }: RingingProps) {
  return (
    <div class="ringing" role="alert">
      <a href={href}>
        <span class="ringing-words">{words}</span>
      </a>
      <button type="button" onClick={onHeard}>
        Heard
      </button>
    </div>
  );
}
