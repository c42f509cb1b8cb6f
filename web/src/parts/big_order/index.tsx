// The biggest words there are while something is on the head: what to do now, and why.
import "./style.css";

interface BigOrderProps {
  /** The order itself: "Wait", "Look now", "Rinse now". */
  verb: string;
  /** The figure that goes with it, and its unit. */
  figure?: string | undefined;
  unit?: string | undefined;
  why: string;
}

/** Returns the order; what is read at arm's length is its figure, or its words where it has none. */
export function BigOrder({ verb, figure, unit, why }: BigOrderProps) {
  return (
    <div class="order">
      <p class={figure ? "order-words" : "order-words order-figure"}>
        {verb}
        {figure && (
          <>
            {" "}
            <span class="order-figure">{figure}</span> {unit}
          </>
        )}
      </p>
      <p>{why}</p>
    </div>
  );
}
