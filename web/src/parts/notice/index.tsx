// Takes the place of an answer: says that it is being worked out, or why it is not there.
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import "./style.css";

interface WorkingProps {
  what: string;
  /** What it waits for, if that is not the server. */
  waiting?: string | undefined;
}

/** Returns the sentence shown while an answer is on its way; after 2 s it says that it is slow. */
export function Working({ what, waiting }: WorkingProps) {
  const [waited_s, setWaited] = useState(0);
  useEffect(() => {
    const clock = setInterval(() => setWaited((seconds) => seconds + 1), 1000);
    return () => clearInterval(clock);
  }, []);
  return (
    <div class="notice" role="status">
      <p>{what}</p>
      {waited_s >= 2 && (
        <p class="quiet">
          {waiting ?? "The server is slow:"} {waited_s} s so far. What you entered is kept on this
          phone.
        </p>
      )}
    </div>
  );
}

interface StoppedProps {
  sentence: string;
  onAgain?: () => void;
  children?: ComponentChildren;
}

/** Returns why there is no answer, and the way to ask again. */
export function Stopped({ sentence, onAgain, children }: StoppedProps) {
  return (
    <div class="notice" role="status">
      <p>
        <strong>{sentence}</strong>
      </p>
      {children}
      {onAgain && (
        <button type="button" onClick={onAgain}>
          Ask again
        </button>
      )}
    </div>
  );
}
