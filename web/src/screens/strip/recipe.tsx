// What goes into the bowl: at the scale large enough for arm's length, on a plan a line each.
import type { Mix } from "../../api/shapes";
import { strength, weight } from "../../device/settings";
import { open_batch, product_words } from "../../shelf/shelf";

/** Returns the recipe, one line a product; `short` for where nothing is weighed yet. */
export function Recipe({ mix, short = false }: { mix: Mix; short?: boolean }) {
  return (
    <div class={short ? "recipe recipe-short" : "recipe"}>
      {!short && <h3>In the bowl</h3>}
      <ul>
        {mix.parts.map(({ product, grams }) => (
          <li key={product}>
            <strong>{weight(grams)}</strong>{" "}
            <span>
              {product_words(product)}
              {open_batch(product) ? `, batch ${open_batch(product)}` : ""}
            </span>
          </li>
        ))}
        {mix.developer && mix.developer.grams > 0 && (
          <li>
            <strong>{weight(mix.developer.grams)}</strong>{" "}
            <span>developer {strength(mix.developer.percent)}</span>
          </li>
        )}
      </ul>
    </div>
  );
}
