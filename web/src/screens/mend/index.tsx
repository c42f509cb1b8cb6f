// After the rinse: a dried strand, what this head did, and the ways on after a miss.
import { useEffect } from "preact/hooks";
import type { WayOn } from "../../api/shapes";
import { hair_in_hand } from "../../bench/chosen";
import { waiting_words } from "../../engine/where";
import { cooler_and_warmer } from "../../parts/edges";
import { Stopped, Working } from "../../parts/notice";
import { Patch } from "../../parts/patch";
import { chance_words, colour_words } from "../../parts/words";
import { minutes_on, type Zone } from "../../salon/service/services";
import { mix_words } from "../../shelf/shelf";
import { ask_ways_on, open_second_mix, ways_on } from "./actions";
import "./style.css";

/** Returns the button for a rinsed zone's ways on, and those once somebody has asked. */
export function WaysOn({ zone }: { zone: Zone }) {
  useEffect(() => () => ways_on.drop(), [zone.id]);
  const asked = ways_on.asked.value;
  if (asked.state === "nothing") {
    return (
      <button
        type="button"
        class="mend-ask"
        disabled={!hair_in_hand.value}
        onClick={() => ask_ways_on(zone, hair_in_hand.value)}
      >
        It missed: what now?
      </button>
    );
  }
  if (asked.state === "working") {
    return <Working what="Looking for a way on…" waiting={waiting_words.value} />;
  }
  if (asked.state === "failed") {
    return <Stopped sentence={asked.sentence} onAgain={() => ways_on.again()} />;
  }
  return (
    <section class="mend" aria-label="Ways on">
      <p class="mend-on">
        On the hair: {zone.mix && mix_words(zone.mix)}, {minutes_on(zone)} min.
      </p>
      <p class="quiet">
        Only lines mixed today or tested on this client: another needs its own test.
      </p>
      <ul class="mend-ways surround">
        {asked.answer.reply.mends.map((way, place) => (
          <li key={`${way.do} ${way.formula ? JSON.stringify(way.formula.mix) : ""}`}>
            <Way way={way} advised={place === 0} zone={zone} />
          </li>
        ))}
      </ul>
      {asked.answer.reply.shortfall && <p>{asked.answer.reply.shortfall.words}</p>}
    </section>
  );
}

const NAMES: Record<WayOn["do"], string> = {
  leave: "Leave it, dry a strand",
  wash_once: "Wash once",
  second_mix: "A second mix",
};

function Way({ way, advised, zone }: { way: WayOn; advised: boolean; zone: Zone }) {
  const { predicted, formula, words } = way;
  return (
    <div class="mend-way">
      <Patch hex={predicted.hex} edges={cooler_and_warmer(predicted.range)} />
      <div class="mend-words">
        <p class="mend-name">
          {NAMES[way.do]}
          {advised && ": advised"}
        </p>
        <p>
          {colour_words(predicted)}; lands {chance_words(way.chance)}
        </p>
        <p>{words}</p>
        {formula && (
          <>
            <p>
              {mix_words(formula.mix)}, {formula.mix.minutes} min
            </p>
            <button type="button" onClick={() => void open_second_mix(zone, way)}>
              Mix this second
            </button>
          </>
        )}
      </div>
    </div>
  );
}
