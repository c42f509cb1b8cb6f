// How a rinsed zone dries, beside what was foretold of its own head: asked once, as the result.
import { later } from "../../parts/later";
import { keep_look } from "../../salon/service/looks";
import { readings_of } from "../../salon/service/readings";
import { minutes_on, type Zone } from "../../salon/service/services";
import { Tip } from "./tip";
import { LookWords } from "./words";

const MeasuredLook = later(() => import("./measured").then((part) => part.MeasuredLook), {
  after: true,
});
const OfThisHead = later(() => import("./of_this_head").then((part) => part.OfThisHead), {
  after: true,
});

/** Returns the question how a rinsed zone dries, and what the answer says of its head. */
export function Dried({ zone }: { zone: Zone }) {
  const minute = minutes_on(zone);
  const before = readings_of(zone.id).findLast(({ where }) => where === "dried");
  return (
    <div class="judge">
      <Tip name="dry one" words="Dry one strand, both sides of the section, before correcting." />
      <LookWords
        legend={`Dry, ${zone.name ?? "it"} is`}
        value={before?.words}
        onWords={(words) =>
          void keep_look(zone, { minute, where: "dried", source: "eye", words }, before)
        }
      />
      <div class="judge-measured">
        <MeasuredLook
          form="dried"
          about={zone.id}
          words="Judge by this reading"
          onLab={(lab, source) =>
            void keep_look(zone, { minute, where: "dried", source, lab }, before)
          }
        />
      </div>
      <OfThisHead zone={zone.id} shown={before !== undefined} />
    </div>
  );
}
