// Keeps a second tap of the same thumb from answering what has just come under it.
import { useEffect, useState } from "preact/hooks";

// A wet glove taps twice within a third of a second; nobody reads a question in that time.
const SETTLES_MS = 400;

/** Returns whether what is shown has stood there long enough to have been meant by a tap. */
export function use_settled(): boolean {
  const [settled, put_settled] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => put_settled(true), SETTLES_MS);
    return () => clearTimeout(timer);
  }, []);
  return settled;
}
