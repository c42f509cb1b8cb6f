// After the lightener is rinsed: the hair is read again, and a toner is a bowl of its own.
import { useEffect } from "preact/hooks";
import type { LighteningReply } from "../../api/shapes";
import { level_words } from "../../parts/words";
import { type Zone, zones_of } from "../../salon/service/services";
import { lightening, seen_words, take_deeper, tone, watch_lightening } from "./actions";
import "./style.css";

/** Returns what a rinsed lightener leaves, and the way to the toner on it. */
export function AfterLightener({ zone }: { zone: Zone }) {
  useEffect(() => watch_lightening(zone.id), [zone.id]);
  const asked = lightening.asked.value;
  const toner = zones_of(zone.service ?? "").some(({ name }) => name === `${zone.name}, toner`);
  return (
    <div class="stack">
      <p>
        {zone.looked
          ? `At minute ${zone.looked.minute}: ${seen_words(zone.looked)}.`
          : "Nobody looked under this lightener."}{" "}
        Read it again rinsed and clean, before anything goes on it.
      </p>
      {asked.state === "answered" && asked.answer.reply.do !== "rinse" && (
        <TooDeep reply={asked.answer.reply} />
      )}
      {toner ? (
        <p>Its toner has a bowl of its own, above.</p>
      ) : (
        <button type="button" class="lighten-tone" onClick={() => void tone(zone)}>
          Tone this hair
        </button>
      )}
    </div>
  );
}

function TooDeep({ reply }: { reply: LighteningReply }) {
  const { lift_to, deeper_wish } = reply;
  return (
    <>
      <p>
        That is too deep for this wish
        {lift_to !== undefined && `, which needs level ${level_words(lift_to)}`}.{" "}
        {deeper_wish
          ? "The same tone deeper can be made from it; or lift again another day."
          : "Choose another wish, or lift again another day."}
      </p>
      {deeper_wish && (
        <button type="button" onClick={() => void take_deeper(reply)}>
          Take the deeper wish
        </button>
      )}
    </>
  );
}
