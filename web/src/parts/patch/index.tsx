// A patch of hair colour. It is always on the grey surround and always has its words.
import "./style.css";

interface PatchProps {
  hex: string | undefined;
  /** The cooler and the warmer edge of the likely range, drawn as slivers at the sides. */
  edges?: readonly [string, string];
  label?: string;
  words?: string;
  /** Shown in place of the colour while there is none. */
  missing?: string;
}

/** Returns the patch with its label above and its words below. */
export function Patch({ hex, edges, label, words, missing }: PatchProps) {
  return (
    <figure class="patch">
      {label && <figcaption class="patch-label">{label}</figcaption>}
      <div class="patch-colour" data-hex={hex} style={{ backgroundColor: hex ?? "transparent" }}>
        {edges && <span style={{ backgroundColor: edges[0] }} />}
        {edges && <span style={{ backgroundColor: edges[1] }} />}
        {!hex && <span class="patch-missing">{missing}</span>}
      </div>
      {words && <p class="patch-words">{words}</p>}
    </figure>
  );
}
