// A list as long as one looks at it: the rest comes by a tap.
import "./style.css";

interface ShowMoreProps {
  /** How many there are, and how many of them are drawn. */
  count: number;
  shown: number;
  onMore: () => void;
}

/** Returns the button under a list; nothing where all of it is drawn. */
export function ShowMore({ count, shown, onMore }: ShowMoreProps) {
  if (count <= shown) return null;
  return (
    <button type="button" onClick={onMore}>
      Show more
    </button>
  );
}
