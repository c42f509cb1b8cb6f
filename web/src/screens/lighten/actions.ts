// What is said of a lightener, looks at the hair under it, and what follows from them.
import { effect } from "@preact/signals";
import type { LighteningReply, LighteningRequest } from "../../api/shapes";
import { lay_out, put_away } from "../../bench/bench";
import { hair_entry, wish_entry } from "../../bench/entries";
import { at_now } from "../../device/when";
import { open_question } from "../../engine/question";
import { level_words } from "../../parts/words";
import type { LabEntry } from "../../records/entered";
import { all, one } from "../../records/read";
import type { LightenerSaid, Looked } from "../../records/shapes";
import { change, new_id, together } from "../../records/write";
import { NO_COLOUR, UNSAID } from "../../salon/service/lightening";
import type { Zone } from "../../salon/service/services";
import { add_zone } from "../../salon/service/zone_acts";

export const lightening = open_question("lightenings");

/** The engine's name for whatever lightener it is: its leaflet is what counts. */
const NAMED = { id: "lightener", name: "lightener", line: "lightener" };

/** Returns what is said of a zone's lightener: else what was said of the last one in this salon. */
export function said_of({ lightener }: Zone): LightenerSaid {
  return lightener ?? UNSAID;
}

/** Returns the lighteners that were used before, the latest first, each once. */
export function used_before(): LightenerSaid[] {
  const used = all("zone")
    .value.filter(({ first_section_at, lightener }) => first_section_at && lightener)
    .sort((a, b) => (b.first_section_at ?? "").localeCompare(a.first_section_at ?? ""))
    .map(({ lightener }) => lightener as LightenerSaid);
  const each = new Map(used.map((said) => [JSON.stringify(said), said] as const));
  return [...each.values()].slice(0, 2);
}

/** Says something of a zone's lightener. */
export async function say(zone: Zone, fields: Partial<LightenerSaid>): Promise<void> {
  const lightener = { ...said_of(zone), ...fields };
  const { max_min } = lightener;
  const known = { lightener, window: NO_COLOUR, ...(max_min && { most_minutes: max_min }) };
  await change("zone", zone.id, known, "Changed the lightener.");
}

/** Keeps a look at a wiped strand, by eye or measured wet; the answer follows from it. */
export async function look(zone: Zone, looked: Looked) {
  const before = hair_entry.value;
  const { lab, level = before.level, warmth = before.warmth } = looked;
  // The hair is from now on as it was seen: the next bowl starts from it.
  hair_entry.value = {
    ...before,
    ...{ seen: "wet", lifted: true, already_on: [] },
    ...(lab
      ? { by_reading: true, reading: { lab: typed(lab), state: "wet" } }
      : { by_reading: false, level, warmth }),
  };
  await put_away();
  const what = `${zone.name ?? ""} under the lightener, minute ${looked.minute}: ${seen_words(looked)}`;
  const step = { service: zone.service ?? "", what, at: at_now() };
  await together(
    [
      { do: "change", kind: "zone", id: zone.id, fields: { looked } },
      { do: "create", kind: "step", id: new_id(), fields: step },
    ],
    "Kept this look.",
  );
}

/** Returns what was seen, in words. */
export function seen_words(looked: Looked): string {
  const { lab, level } = looked;
  if (lab) return `measured L*, a*, b* ${lab.join(", ")}`;
  return level === undefined ? "not said" : `level ${level_words(level)}`;
}

/** Keeps asking as a zone is looked at and its wish changes; returns the end of it. */
export function watch_lightening(zone_id: string): () => void {
  return effect(() => {
    const zone = one("zone", zone_id).value;
    const asked = zone && request_of(zone);
    if (asked) lightening.put(asked);
    else lightening.drop();
  });
}

function request_of({ hair, wish, lightener, looked }: Zone): LighteningRequest | null {
  const { developer_percent, check_every_min, max_min, mix_ratio } = lightener ?? {};
  if (!hair || !wish || !looked || !max_min || !developer_percent || !check_every_min) return null;
  const { reading: _, level: __, warmth: ___, ...rest } = hair;
  const { lab, level: level_seen, warmth: warmth_seen } = looked;
  const seen = lab
    ? { reading: { lab, state: "wet" as const } }
    : {
        ...(level_seen !== undefined && { level: level_seen }),
        ...(warmth_seen !== undefined && { warmth: warmth_seen }),
      };
  return {
    hair: { ...rest, ...seen, lifted: true, already_on: [], also: [] },
    wish,
    elapsed_min: looked.minute,
    lightener: {
      ...{ ...NAMED, check_every_min, max_min, developer_percent: [developer_percent] },
      ...(mix_ratio !== undefined && { mix_ratio }),
    },
  };
}

/** Takes the nearest wish that this hair already carries. */
export async function take_deeper({ deeper_wish }: LighteningReply): Promise<void> {
  if (!deeper_wish) return;
  const { level, tone, lab } = deeper_wish;
  wish_entry.value = {
    ...wish_entry.value,
    ...(level != null && { level }),
    ...(tone && { tone }),
    ...(lab && { lab: typed(lab) }),
  };
  await put_away();
}

/** Returns a colour as it is typed, to a tenth. */
function typed(lab: readonly number[]): LabEntry {
  return lab.map((value) => value.toFixed(1)) as LabEntry;
}

/** Opens the toner of a lightened zone as a bowl of its own, on the hair as it was last seen. */
export async function tone(zone: Zone): Promise<void> {
  const name = `${zone.name ?? ""}, toner`;
  const id = await add_zone(zone.service ?? "", name, zone);
  await lay_out(id, "hair");
}
