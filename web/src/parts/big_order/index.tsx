// The biggest words on the screen while something is on the head: what to do now, and why.
import "./style.css";

interface BigOrderProps {
  /** The order itself: "Wait", "Look now", "Rinse now". */
  verb: string;
  /** The order's figure, and its unit. */
  figure?: string | undefined;
  unit?: string | undefined;
  why: string;
}

/** Returns the order; its figure is read at arm's length, or its words if it has none. */
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
