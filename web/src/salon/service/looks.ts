// Looks at a zone as acts: kept, said to be right, put right by another, taken back.
import type { Reading } from "../../api/shapes";
import { at_now } from "../../device/when";
import type { ReadingWords, Writing } from "../../records/shapes";
import { new_id, together } from "../../records/write";
import type { Look } from "./readings";
import type { Zone } from "./services";

/** The words a look is said in. */
export const LOOK_WORDS: readonly (readonly [ReadingWords, string])[] = [
  ["as_shown", "as shown"],
  ["pinker", "pinker"],
  ["yellower", "yellower"],
  ["greener", "greener"],
  ["more_violet", "more violet"],
  ["greyer", "greyer"],
  ["darker", "darker"],
  ["lighter", "lighter"],
  ["patchy", "patchy"],
];
const WORDS_OF = new Map(LOOK_WORDS);

/** Returns a look in words: "pinker", "reading 35, 25, −20". */
export function look_words({ words, lab }: Pick<Look, "words" | "lab">): string {
  if (words) return WORDS_OF.get(words) ?? words;
  return `reading ${lab?.map((value) => String(value).replace("-", "−")).join(", ")}`;
}

/** Keeps a look at a zone; what it says of the head follows. `instead` is one it puts right. */
export async function keep_look(zone: Zone, reading: Reading, instead?: Look): Promise<void> {
  const { minute, where, source, lab, words } = reading;
  const fields: Writing<"reading"> = {
    ...{ service: zone.service ?? null, zone: zone.id, at: at_now() },
    ...{ minute, where, source },
    ...(lab && { lab }),
    ...(words && { words }),
    ...(instead && { corrects: instead.id }),
  };
  await together(
    [{ do: "create", kind: "reading", id: new_id(), fields }],
    `${zone.name ?? "Look"}: ${look_words({ ...(words && { words }), ...(lab && { lab }) })}.`,
  );
}

/** Says of a look that it is right, though hardly any such head looks so. */
export async function trust_look(look: Look): Promise<void> {
  const { service, zone, minute, where, source, lab, words, at } = look;
  const fields: Writing<"reading"> = {
    ...(service && { service }),
    ...(zone && { zone }),
    ...(minute !== undefined && { minute }),
    ...(where && { where }),
    ...(source && { source }),
    ...(lab && { lab }),
    ...(words && { words }),
    ...(at && { at }),
    ...{ trusted: true as const, corrects: look.id },
  };
  await together(
    [{ do: "create", kind: "reading", id: new_id(), fields }],
    `It is right: ${look_words(look)}.`,
  );
}

/** Takes a look back; with one that was said to be right goes the look it was said of. */
export async function take_back_look(look: Look): Promise<void> {
  const ids = [look.id, ...(look.trusted && look.corrects ? [look.corrects] : [])];
  await together(
    ids.map((id) => ({ do: "remove", kind: "reading", id })),
    `Took back: ${look_words(look)}.`,
  );
}
