// A button that takes a hold, for what one tap of a wet glove must not do. A keyboard and a screen
// reader cannot hold: they press it, read what it asks, and press it again.
import { useEffect, useRef, useState } from "preact/hooks";
import "./style.css";

const HOLD_MS = 1000;
const ASKS_MS = 8000;

interface HoldProps {
  /** What it does, said with how: "Hold to rinse lengths". */
  words: string;
  /** What it asks after a press without a hold: "Press again to rinse lengths". */
  again: string;
  main?: boolean;
  /** A class of its own, for where it stands. */
  name?: string;
  onHeld: () => void;
}

/** Returns the button; it fills up while it is held, and acts once it is full. */
export function HoldButton({ words, again, main = false, name = "", onHeld }: HoldProps) {
  const [held, put_held] = useState(false);
  const [asks, put_asks] = useState(false);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const by_pointer = useRef(false);
  const stop = () => {
    clearTimeout(timer.current);
    put_held(false);
  };
  useEffect(() => stop, []);
  useEffect(() => {
    if (!asks) return;
    const ends = setTimeout(() => put_asks(false), ASKS_MS);
    return () => clearTimeout(ends);
  }, [asks]);
  return (
    <button
      type="button"
      class={`hold ${name}${main ? " step-main" : ""}${held ? " hold-held" : ""}`}
      onPointerDown={(event) => {
        by_pointer.current = true;
        event.currentTarget.setPointerCapture(event.pointerId);
        put_held(true);
        clearTimeout(timer.current);
        timer.current = setTimeout(() => {
          stop();
          onHeld();
        }, HOLD_MS);
      }}
      onPointerUp={stop}
      onPointerCancel={stop}
      onContextMenu={(event) => event.preventDefault()}
      onClick={() => {
        const tapped = by_pointer.current;
        by_pointer.current = false;
        // A tap that was too short for a hold does nothing.
        if (tapped) return;
        if (asks) onHeld();
        else put_asks(true);
      }}
    >
      <span aria-live="polite">{asks ? again : words}</span>
    </button>
  );
}
