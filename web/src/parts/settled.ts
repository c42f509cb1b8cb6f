// Keeps a second tap of the same thumb from answering a question that has just appeared under it.
import { useEffect, useState } from "preact/hooks";

// A wet glove taps twice within a third of a second; nobody reads a question in that time.
const SETTLES_MS = 400;

/** Returns whether the question has been there long enough for a tap to be meant. */
export function use_settled(): boolean {
  const [settled, put_settled] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => put_settled(true), SETTLES_MS);
    return () => clearTimeout(timer);
  }, []);
  return settled;
}
