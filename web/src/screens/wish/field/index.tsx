// The wish as a field around the hair now: lighter up, warmer to the right. What this shelf cannot
// land is hatched. The wish follows a finger; buttons and arrow keys do the same.
import { useEffect, useMemo } from "preact/hooks";
import { wish_entry } from "../../../bench/entries";
import { Choice } from "../../../parts/choice";
import { Stopped } from "../../../parts/notice";
import { FirstMix } from "./first_mix";
import { follow, followed, ring, settle } from "./follow";
import { labels_of, WHY_WORDS, why_not_at } from "./hatching";
import { FIELDS, type FieldName, field_of, moved, rows_around, tones_at } from "./places";
import { about, all_known, find_reaches, hair_is_said, reach_at, reaches_failed } from "./reaches";
import { Steps } from "./steps";
import { Surface } from "./surface";
import "./style.css";

interface WishFieldProps {
  hair: { hex: string | undefined; level: number | undefined };
}

/** Returns the field with its steps, the fields beside it and the first mix of the wish. */
export function WishField({ hair }: WishFieldProps) {
  const { level, tone } = wish_entry.value;
  const name = followed.field.value ?? field_of(tone);
  const tones = FIELDS[name];
  const said = hair_is_said.value;
  const rows = rows_around(said ? hair.level : undefined, ring.value?.level ?? level);
  const spot = ring.value;
  useReaches(rows, tones);
  // What was followed to its place belongs to the entries, whichever way the field is left.
  useEffect(() => settle, []);
  const why = spot && said ? why_not_at(reach_at, spot, tones) : undefined;
  const step = (by: { lighter?: number; warmer?: number }) => {
    const from = spot ?? { level, stop: tones.length - 1 };
    const to = spot ? moved(from, by, tones) : from;
    if (to) follow(to, tones);
  };
  return (
    <div class="stack wish-field">
      <div class="surround field-box">
        <p class="field-words" role="status">
          {spot ? tones_at(tones, spot.stop).join(" with ") : "Slide, or tap a step"}
          {why && `: ${WHY_WORDS[why]}`}
        </p>
        <Surface
          rows={rows}
          tones={tones}
          hair={said ? hair : undefined}
          busy={about.value !== null && !all_known(rows, tones)}
          labels={said ? labels_of(reach_at, rows, tones) : []}
          onStep={step}
        />
        {!said && <p>Read the hair to see what lands.</p>}
        <Steps spot={spot} tones={tones} onStep={step} />
      </div>
      {reaches_failed.value && (
        <Stopped
          sentence={reaches_failed.value}
          onAgain={() => {
            followed.again.value += 1;
          }}
        />
      )}
      <Choice
        legend="Field"
        options={(Object.keys(FIELDS) as FieldName[]).map((each) => [each, each] as const)}
        value={name}
        onChoose={(each) => {
          settle();
          followed.field.value = each;
        }}
      />
      <FirstMix />
    </div>
  );
}

/** Keeps asking what lands for the hair, the shelf and the levels in sight. */
function useReaches(rows: readonly number[], tones: readonly string[]): void {
  const of = about.value;
  const key = JSON.stringify([of, rows, tones]);
  const again = followed.again.value;
  const asked = useMemo(() => ({ of, rows, tones }), [key]);
  useEffect(() => {
    if (!asked.of) return;
    const mine = new AbortController();
    void find_reaches(asked.of, asked.rows, asked.tones, mine.signal);
    return () => mine.abort();
  }, [asked, again]);
}
