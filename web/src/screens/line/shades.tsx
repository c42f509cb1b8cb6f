// The shades one has of a line, drawn; in stock or out by one tap; each tube by its batch.
import { useTyped } from "../../device/typed";
import { at_now, date_words } from "../../device/when";
import { Patch } from "../../parts/patch";
import { TextField } from "../../parts/text";
import { level_words } from "../../parts/words";
import { instead_words, told_of } from "../../prediction/own_names";
import { all } from "../../records/read";
import type { Entity } from "../../records/shapes";
import { change, create, remove } from "../../records/write";
import { shade_words } from "../../shelf/shade_codes";
import { as_product } from "../../shelf/shelf";

interface ShadesProps {
  line: Entity<"line">;
  shades: readonly Entity<"product">[];
}

/** Returns the shades, the palest first. */
export function Shades({ line, shades }: ShadesProps) {
  if (shades.length === 0) return null;
  return (
    <div class="stack">
      <h3>
        {shades.length} {shades.length === 1 ? "shade" : "shades"}
      </h3>
      <ul class="shades surround">
        {shades.map((shade) => {
          const product = as_product(line, shade);
          const told = product && told_of(product);
          return (
            <li key={shade.id} class="shade">
              <Patch hex={told?.makes.hex} missing="being worked out" />
              <div class="shade-words">
                <strong>{shade.code ?? shade.name}</strong>
                <span>{shade_words(level_words(shade.level ?? 0), shade.tone ?? [])}</span>
                <button
                  type="button"
                  aria-pressed={shade.in_stock !== false}
                  onClick={() =>
                    void change(
                      "product",
                      shade.id,
                      { in_stock: shade.in_stock === false },
                      `${shade.code ?? shade.name}: ${shade.in_stock === false ? "in stock" : "out"}.`,
                    )
                  }
                >
                  {shade.in_stock === false ? "out" : "in stock"}
                </button>
              </div>
              {told && instead_words(told) && <p class="shade-instead">{instead_words(told)}</p>}
              <details>
                <summary>Tubes and more</summary>
                {told && <p>{told.words}</p>}
                <Tubes shade={shade.id} />
                <button type="button" onClick={() => void remove("product", shade.id)}>
                  Delete this shade
                </button>
              </details>
            </li>
          );
        })}
      </ul>
    </div>
  );
}

function Tubes({ shade }: { shade: string }) {
  const [batch, type] = useTyped("batch", shade, "");
  const tubes = all("tube").value.filter(
    ({ product, finished_at }) => product === shade && !finished_at,
  );
  const open = async () => {
    await create("tube", { product: shade, batch: batch.trim(), opened_at: at_now() });
    type("");
  };
  return (
    <div class="stack">
      <ul>
        {tubes.map((tube) => (
          <li key={tube.id} class="tube">
            <span>
              batch {tube.batch || "not noted"}, opened{" "}
              {date_words(tube.opened_at ?? tube.created_at)}
            </span>
            <button
              type="button"
              onClick={() =>
                void change("tube", tube.id, { finished_at: at_now() }, "Tube finished.")
              }
            >
              finished
            </button>
          </li>
        ))}
      </ul>
      <TextField label="Batch of a new tube" value={batch} onType={type} mostLength={40} />
      <button type="button" onClick={() => void open()}>
        Open a tube
      </button>
    </div>
  );
}
