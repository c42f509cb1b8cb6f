// Which other tube went into the bowl: the likeliest first, then the rest of the shelf.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Product } from "../../api/shapes";
import { is_meant, is_settling } from "../../parts/meant/taps";
import type { Suspect } from "../../prediction/held";
import { one } from "../../records/read";
import type { Zone } from "../../salon/service/services";
import { put_other_tube, tubes_in_place_of } from "../../salon/service/wrong_tube";
import { product_of, product_words, tube_words } from "../../shelf/shelf";
import { ANY_TUBE, tube_asked } from "./state";

interface TubesProps {
  zone: string;
  /** The product of the mix that was planned, or `ANY_TUBE`. */
  meant: string;
  could_be: readonly Suspect[];
  /** The acts that have no room in the bar. */
  more: ComponentChildren;
}

/** Returns the tubes that may have gone in; a tap puts one into the zone's mix. */
export function Tubes({ zone: id, meant, could_be, more }: TubesProps) {
  const zone = one("zone", id).value;
  if (!zone) return null;
  const all = zone.mix?.parts.map(({ product }) => product) ?? [];
  return (
    <div class="basin-tubes">
      <p>
        <strong>None of these?</strong> Rinse it off, and follow its own leaflet.
      </p>
      {meant !== ANY_TUBE ? (
        <InPlaceOf key={meant} {...{ zone, meant, could_be }} />
      ) : (
        all.map((planned) => (
          <section key={planned} aria-label={`In place of ${product_words(planned)}`}>
            <p>
              In place of <strong>{product_words(planned)}</strong>:
            </p>
            <InPlaceOf {...{ zone, could_be }} meant={planned} />
          </section>
        ))
      )}
      {more}
    </div>
  );
}

interface InPlaceOfProps extends Pick<TubesProps, "meant" | "could_be"> {
  zone: Zone;
}

function InPlaceOf({ zone, meant, could_be }: InPlaceOfProps) {
  const [settles] = useState(is_settling);
  const likely = could_be.flatMap(({ product, instead_of }) =>
    product && instead_of === meant ? [product] : [],
  );
  const found = tubes_in_place_of(zone, meant);
  const place = ({ id }: Product) => (likely.includes(id) ? likely.indexOf(id) : likely.length);
  const tubes = [...found].sort((a, b) => place(a) - place(b));
  const line = product_of(meant)?.line;
  const put = (tube: Product) => {
    tube_asked.value = "";
    void put_other_tube(zone, meant, tube);
  };
  if (tubes.length === 0) return <p>Your shelf has no tube that could take its place.</p>;
  return (
    <ul>
      {tubes.map((tube) => (
        <li key={tube.id}>
          <button
            type="button"
            class={settles ? "settles" : ""}
            onClick={(event) => is_meant(event) && put(tube)}
          >
            {tube_words(tube)}
            {likely.includes(tube.id) && <small>would look like your reading</small>}
            {tube.line !== line && <small>another line: rinse at once if it tingles</small>}
          </button>
        </li>
      ))}
    </ul>
  );
}
