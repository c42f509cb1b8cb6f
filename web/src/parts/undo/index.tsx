// The last act, and the way to undo it; an act that could not be kept, and a way to save it.
import "./style.css";

interface UndoProps {
  words: string;
  state: "done" | "undone";
  /** Set where taking it back would hide later work: what that is, in words. */
  asks?: string | undefined;
  onUndo: () => void;
  onRedo: () => void;
  /** The answer to `asks`: take it back all the same, or leave it. */
  onSure: () => void;
  onLeave: () => void;
}

/** Returns the bar after an act. */
export function UndoBar({ words, state, asks, onUndo, onRedo, onSure, onLeave }: UndoProps) {
  if (asks) {
    return (
      <div class="undo undo-asks" role="alert">
        <p>
          <strong>{words}</strong> {asks}
        </p>
        <button type="button" onClick={onLeave}>
          Leave it
        </button>
        <button type="button" onClick={onSure}>
          Take it back
        </button>
      </div>
    );
  }
  return (
    <div class="undo undo-line" role="status">
      <p>{state === "undone" ? `Taken back: ${words}` : words}</p>
      <button type="button" onClick={state === "undone" ? onRedo : onUndo}>
        {state === "undone" ? "Redo" : "Undo"}
      </button>
    </div>
  );
}

interface NotKeptProps {
  words: string;
  text: string;
  onSaved: () => void;
}

/**
 * Returns the bar of an act that is only on the screen: it stays until the act is kept or saved.
 */
export function NotKeptBar({ words, text, onSaved }: NotKeptProps) {
  const save = () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    link.download = "basinside-not-kept.json";
    link.click();
    URL.revokeObjectURL(link.href);
    onSaved();
  };
  return (
    <div class="undo not-kept" role="alert">
      <p>
        <strong>{words}</strong>
      </p>
      <button type="button" onClick={save}>
        Save as a file
      </button>
    </div>
  );
}
