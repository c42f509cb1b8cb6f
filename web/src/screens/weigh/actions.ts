// Asks for the ladder of the mix that was taken, as much of it as this hair needs.
import { computed, effect } from "@preact/signals";
import type { HairAmount, MixReply, MixRequest } from "../../api/shapes";
import { amounts } from "../../bench/entries";
import { kept } from "../../device/kept";
import { settings, strength } from "../../device/settings";
import { open_question } from "../../engine/question";
import { one } from "../../records/read";
import { change as change_record, set_setting, setting_id } from "../../records/write";
import { last_service, type Zone, zones_of } from "../../salon/service/services";
import { product_of } from "../../shelf/shelf";

export const ladder = open_question("mixes");

/** How this phone weighs: the scale's smallest step, and the unit the amounts are said in. */
export const scale = kept<{ step_g: number; unit: "" | "g" | "oz" | "ml" | "parts" }>("scale", {
  step_g: 1,
  unit: "",
});

const STOCK = "developers_in_stock";
/** The developers that stand in this salon, in percent; undefined until somebody has said. */
export const stock = computed(
  () => one("setting", setting_id(STOCK)).value?.value as number[] | undefined,
);

/** Says whether a developer is in stock. */
export function toggle_stock(percent: number): void {
  const before = stock.value ?? [];
  const now = before.includes(percent)
    ? before.filter((other) => other !== percent)
    : [...before, percent].sort((a, b) => a - b);
  const where = before.includes(percent) ? "not on the shelf" : "on the shelf";
  void set_setting(STOCK, now, `${strength(percent)} developer: ${where}.`);
}

/** Changes how much hair there is, or what was left over the last time. */
export function change(fields: Partial<typeof amounts.value>): void {
  amounts.value = { ...amounts.value, ...fields };
}

/** Keeps asking for a zone's ladder as its mix, the amount or the scale change; returns the end. */
export function watch_ladder(zone_id: string): () => void {
  return effect(() => {
    const zone = one("zone", zone_id).value;
    const asked = zone && request_of(zone);
    if (asked) ladder.put(asked);
    else ladder.drop();
  });
}

function request_of({ mix, products, service, order, hair }: Zone): MixRequest | null {
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
    unit: unit || settings.value.weight,
    ...(stock.value && stock.value.length > 0 && { developers_in_stock: stock.value }),
    ...(amount && { hair_amount: amount }),
    ...(hair && !hair.already_on?.length && { hair: { ...hair, also: [] } }),
  };
}

function amount_of(client: string | undefined, order: number): HairAmount | null {
  const { length, density, share, left_over } = amounts.value;
  if (!length) return null;
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

/** Takes the mix as it was weighed: from then on that is what is on the hair. */
export async function keep_as_weighed({ id, mix }: Zone, { mix: weighed }: MixReply) {
  if (!weighed || JSON.stringify(weighed) === JSON.stringify(mix)) return;
  await change_record("zone", id, { mix: weighed }, "Weighed the mix.");
}
