// What goes into the bowl, large enough to read at arm's length.
import type { Mix } from "../../api/shapes";
import { strength, weight } from "../../device/settings";
import { open_batch, product_words } from "../../shelf/shelf";

/** Returns the recipe, one line a product. */
export function Recipe({ mix }: { mix: Mix }) {
  return (
    <div class="recipe">
      <h3>In the bowl</h3>
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
