// A long list, shown in part: a tap brings the rest.
import "./style.css";

interface ShowMoreProps {
  /** How many there are, and how many are drawn. */
  count: number;
  shown: number;
  onMore: () => void;
}

/** Returns the button under a list; nothing once all of it is drawn. */
export function ShowMore({ count, shown, onMore }: ShowMoreProps) {
  if (count <= shown) return null;
  return (
    <button type="button" onClick={onMore}>
      Show more
    </button>
  );
}
