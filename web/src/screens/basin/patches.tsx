// The colours of one minute: large, on their grey, with the edges of where most heads lie.
import type { Colour } from "../../api/shapes";
import { cooler_and_warmer } from "../../parts/edges";

/** Returns one colour with the cooler and the warmer edge of its range at its sides. */
export function Shade({ colour }: { colour: Colour | undefined }) {
  if (!colour) return <span class="shade shade-none" />;
  const [cooler, warmer] = cooler_and_warmer(colour.range);
  return (
    <span class="shade" data-hex={colour.hex} style={{ backgroundColor: colour.hex }}>
      <span class="shade-edge" style={{ backgroundColor: cooler }} />
      <span class="shade-edge" style={{ backgroundColor: warmer }} />
    </span>
  );
}

/** Returns a colour's words without the verb: "8½, flushed mauve-pink". */
export function short_words({ words }: Colour): string {
  return words.replace(/^looks /, "").replace(/^level /, "");
}
