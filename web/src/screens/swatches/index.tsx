// The swatch bench of a line: plan the swatches, paint them, read them, and put what they taught in
// force.
import { useEffect } from "preact/hooks";
import { Absent } from "../../parts/absent";
import { address_of } from "../../place";
import { one, records_ready } from "../../records/read";
import { missing_words } from "../../shelf/missing";
import { labelled, planned_swatches, question_of } from "../../swatches/swatches";
import { fitting } from "../../swatches/taught";
import { PlanForm } from "./plan_form";
import { PlannedRow } from "./row";
import { Taught } from "./taught";
import "./style.css";

/** Returns the bench. */
export function SwatchBench({ id }: { id: string }) {
  const line = one("line", id).value;
  const question = line && question_of(line);
  const asked = question ? JSON.stringify(question) : "";
  useEffect(() => {
    if (question) fitting.put(question);
    else fitting.drop();
  }, [asked]);
  if (!records_ready.value) return <p class="quiet">Opening your records…</p>;
  if (!line) return <Absent what="line" href={address_of("shelf")} way="Go to the shelf" />;
  const planned = planned_swatches(id);
  const products = labelled(line);
  const { state, ...rest } = fitting.asked.value;
  const reply = state === "answered" && "answer" in rest ? rest.answer.reply : undefined;
  const first_left = planned.find(({ on_ms, swatch }) => !swatch && on_ms === undefined);
  return (
    <section class="stack swatch-bench" aria-labelledby="swatches-heading">
      <a href={address_of("line", id)}>Back to {line.name || "the line"}</a>
      <h2 id="swatches-heading">{line.name}: swatches</h2>
      {products.length === 0 ? (
        <p>{missing_words(line) || "Add a shade first. Swatches teach what a tube really does."}</p>
      ) : (
        <>
          <Taught line={line} />
          {planned.length > 0 && (
            <ol class="swatch-rows">
              {planned.map((each) => (
                <PlannedRow
                  key={`${each.plan.id} ${each.row.code}`}
                  planned={each}
                  products={products}
                  fit={reply?.fits.find((fit) => fit.id === each.swatch?.id)}
                  is_next={each === first_left}
                />
              ))}
            </ol>
          )}
          <PlanForm line={line} products={products} is_first={planned.length === 0} />
        </>
      )}
    </section>
  );
}
