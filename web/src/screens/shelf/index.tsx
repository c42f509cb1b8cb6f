// The shelf: line by line, each with its shades. A first start needs one line and a few tubes.
import "../../parts/rows/style.css";
import { MainStep } from "../../parts/steps";
import { address_of, go } from "../../place";
import { told_of } from "../../prediction/own_names";
import { all, records_ready } from "../../records/read";
import type { Entity } from "../../records/shapes";
import { create } from "../../records/write";
import { missing_in_list } from "../../shelf/missing";
import { CLASSES } from "../../shelf/shade_codes";
import { as_product, shades_of, shelf } from "../../shelf/shelf";
import "./style.css";

/** As many as a row has room for; the line's own page shows all. */
const MOST_COLOURS = 24;

/** Returns the lines, or how to begin. */
export function ShelfScreen() {
  const lines = all("line").value;
  return (
    <section class="stack shelf" aria-labelledby="shelf-heading">
      <h2 id="shelf-heading">Shelf</h2>
      {!records_ready.value && <p class="quiet">Opening your records…</p>}
      {records_ready.value && lines.length === 0 && (
        <>
          <p>No tubes yet. Add one line from its box, then five shades. That is enough to mix.</p>
          <p>
            Until then a demo shelf of {shelf.value.products.length} invented products serves{" "}
            <a href={address_of("try")}>to try out a mix</a>. Nothing on it can be bought.
          </p>
        </>
      )}
      {lines.length > 0 && shelf.value.demo && <p>You see demo tubes. Add one of yours.</p>}
      <ul class="rows">
        {lines.map((line) => {
          const shades = shades_of(line.id);
          const out = shades.filter(({ in_stock }) => in_stock === false).length;
          return (
            <li key={line.id}>
              <a class="row" href={address_of("line", line.id)}>
                <strong>{line.name || "a line without a name"}</strong>
                <span class="quiet">
                  {CLASSES.find(([name]) => name === line.class)?.[1] ?? "class missing"},{" "}
                  {line.promised_on &&
                    line.promised_on !== "any" &&
                    `for ${line.promised_on} hair, `}
                  {shades.length} {shades.length === 1 ? "shade" : "shades"}
                  {out > 0 ? `, ${out} out` : ""}
                </span>
                {missing_in_list(line) && (
                  <span>
                    <strong>{missing_in_list(line)}</strong>: no mixes from it yet
                  </span>
                )}
                {shades.length > 0 && <Colours line={line} shades={shades} />}
              </a>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** The colour that each shade makes alone, in the order of the line's page. */
function Colours({ line, shades }: { line: Entity<"line">; shades: readonly Entity<"product">[] }) {
  const made = shades.slice(0, MOST_COLOURS).map((shade) => {
    const product = as_product(line, shade);
    return { id: shade.id, hex: product && told_of(product)?.makes.hex };
  });
  return (
    <span class="shelf-colours" aria-hidden="true">
      {made.map(({ id, hex }) => (
        <span key={id} data-hex={hex} style={{ backgroundColor: hex }} />
      ))}
    </span>
  );
}

/** Returns the next step: another line. */
export function ShelfStep() {
  return (
    <MainStep
      words={all("line").value.length === 0 ? "Begin with a line" : "Another line"}
      onTap={async () => {
        // Nothing of its leaflet is filled in: somebody reads it.
        go("line", await create("line", {}));
      }}
    />
  );
}
