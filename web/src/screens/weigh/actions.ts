// Asks for the ladder of the mix that was taken, as much of it as this hair needs.
import { computed, effect, untracked } from "@preact/signals";
import type { HairAmount, MixRequest } from "../../api/shapes";
import { amounts, SHARE_UNSAID } from "../../bench/entries";
import { kept } from "../../device/kept";
import { settings, strength } from "../../device/settings";
import { at_now } from "../../device/when";
import { open_question } from "../../engine/question";
import { all, one } from "../../records/read";
import { type Change, new_id, set_setting, setting_id, together } from "../../records/write";
import { last_service, type Zone, zones_of } from "../../salon/service/services";
import { chosen_mix_of, keep_as_weighed, note_shown } from "../../salon/service/weighed";
import { product_of, product_words } from "../../shelf/shelf";

export const ladder = open_question("mixes");

/** How this phone weighs: the scale's smallest step, and the unit the amounts are said in. */
export const scale = kept<{ step_g: number; unit: "" | "g" | "oz" | "parts" }>("scale", {
  step_g: 1,
  unit: "",
});

/** The units a scale can be read in; a phone may have kept one that no scale shows. */
const UNITS = ["g", "oz", "parts"] as const;

const STOCK = "developers_in_stock";
/** The developers that stand in this salon, in percent; undefined until somebody has said. */
export const stock = computed(() => {
  const value = one("setting", setting_id(STOCK)).value?.value;
  // Any program may have written it.
  return Array.isArray(value) && value.every((each) => typeof each === "number")
    ? (value as number[])
    : undefined;
});

/** Says whether a developer is in stock. */
export function toggle_stock(percent: number): void {
  const before = stock.value ?? [];
  const now = before.includes(percent)
    ? before.filter((other) => other !== percent)
    : [...before, percent].sort((a, b) => a - b);
  const where = before.includes(percent) ? "not on the shelf" : "on the shelf";
  void set_setting(STOCK, now, `${strength(percent)} developer: ${where}.`);
}

/** The zone whose amount was changed here: what is then worked out becomes its mix. */
let changed_here = "";

/** Changes how much hair a zone has, or what was left over the last time. */
export function change(zone_id: string, fields: Partial<typeof amounts.value>): void {
  changed_here = zone_id;
  amounts.value = { ...amounts.value, ...fields };
}

/** Keeps asking for a zone's ladder as its mix, the amount or the scale change; returns the end. */
export function watch_ladder(zone_id: string): () => void {
  const end_asking = effect(() => {
    const zone = one("zone", zone_id).value;
    const asked = zone && request_of(zone);
    if (asked) ladder.put(asked);
    else ladder.drop();
  });
  const end_noting = effect(() => {
    const asked = ladder.asked.value;
    if (asked.state !== "answered") return;
    const { mix } = asked.answer.reply;
    untracked(() => {
      const zone = one("zone", zone_id).value;
      const of_now = zone && JSON.stringify(request_of(zone)) === JSON.stringify(asked.request);
      if (!of_now || !mix) return;
      note_shown(zone, mix);
      if (changed_here !== zone_id) return;
      changed_here = "";
      void keep_as_weighed(zone, "Changed how much to mix.");
    });
  });
  return () => {
    end_asking();
    end_noting();
  };
}

function request_of(zone: Zone): MixRequest | null {
  const { products, service, order, hair } = zone;
  const mix = chosen_mix_of(zone);
  if (!mix) return null;
  const known = mix.parts.flatMap(({ product }) => {
    const found = products?.find(({ id }) => id === product) ?? product_of(product);
    return found ? [found] : [];
  });
  const client = one("service", service ?? "").value?.client;
  const { unit, step_g } = scale.value;
  const amount = amount_of(client, order ?? 0);
  const { parts, developer, minutes } = mix;
  return {
    // A whole mix is weighed as it is; parts are brought to the amount that the hair needs.
    ...(amount ? { parts, minutes, ...(developer && { developer }) } : { mix }),
    products: known,
    step_g,
    unit: UNITS.find((known) => known === unit) ?? settings.value.weight,
    ...(stock.value && stock.value.length > 0 && { developers_in_stock: stock.value }),
    ...(amount && { hair_amount: amount }),
    ...(hair && !hair.already_on?.length && { hair: { ...hair, also: [] } }),
  };
}

function amount_of(client: string | undefined, order: number): HairAmount | null {
  const { length, density, share, left_over } = amounts.value;
  if (!length || share === SHARE_UNSAID) return null;
  const last = client ? last_service(client) : undefined;
  const before = last && zones_of(last.id)[order]?.mix;
  const total_g = before?.parts.reduce((sum, { grams }) => sum + grams, 0);
  return {
    length: length as NonNullable<HairAmount["length"]>,
    density: density as NonNullable<HairAmount["density"]>,
    share,
    ...(left_over && {
      before: {
        left_over: left_over as "none" | "a_little" | "half",
        ...(total_g && { total_g }),
      },
    }),
  };
}

/** Notes the batch of the tube that a product is taken from; the tube before it is finished. */
export async function note_batch(product: string, batch: string): Promise<void> {
  const open_now = all("tube").value.filter(
    (tube) => tube.product === product && !tube.finished_at,
  );
  if (open_now.some((tube) => (tube.batch ?? "") === batch)) return;
  const at = at_now();
  const finished = open_now.map(
    ({ id }): Change => ({ do: "change", kind: "tube", id, fields: { finished_at: at } }),
  );
  const opened: Change[] = batch
    ? [{ do: "create", kind: "tube", id: new_id(), fields: { product, batch, opened_at: at } }]
    : [];
  await together([...finished, ...opened], `Noted the batch of ${product_words(product)}.`);
}
