// What goes into the bowl: at the scale large enough for arm's length, on a plan a line each.
import type { Mix } from "../../api/shapes";
import { bowl_rows } from "../../salon/bowl_rows";
import { open_batch } from "../../shelf/shelf";

/** Returns the recipe, one line a product; `short` for where nothing is weighed yet. */
export function Recipe({ mix, short = false }: { mix: Mix; short?: boolean }) {
  return (
    <div class={short ? "recipe recipe-short" : "recipe"}>
      {!short && <h3>In the bowl</h3>}
      <ul>
        {bowl_rows(mix).map(({ id, amount, name }) => (
          <li key={id}>
            <strong>{amount}</strong>{" "}
            <span>
              {name}
              {open_batch(id) ? `, batch ${open_batch(id)}` : ""}
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}
