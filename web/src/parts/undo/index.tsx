// What was done last, and the way to take it back; and what could not be kept, with a way to save it.
import "./style.css";

interface UndoProps {
  words: string;
  onUndo: () => void;
  onLet: () => void;
}

/** Returns the bar after an act. */
export function UndoBar({ words, onUndo, onLet }: UndoProps) {
  return (
    <div class="undo" role="status">
      <p>{words}</p>
      <button type="button" onClick={onUndo}>
        Undo
      </button>
      <button type="button" aria-label="leave it" onClick={onLet}>
        ✓
      </button>
    </div>
  );
}

interface NotKeptProps {
  words: string;
  text: string;
  onSaved: () => void;
}

/** Returns the bar of what is on the screen only: it stays until it is kept, or saved as a file. */
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
