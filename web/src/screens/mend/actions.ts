// Asks what would bring a rinsed zone nearer its wish, with its mix counted as on the hair.
import type { MendRequest, Mix, WayOn } from "../../api/shapes";
import { lay_out } from "../../bench/bench";
import { open_question } from "../../engine/question";
import type { Entered } from "../../records/entered";
import { one } from "../../records/read";
import { create } from "../../records/write";
import { tests_of } from "../../salon/alert_tests/alert_tests";
import { minutes_on, most_minutes_of, type Zone, zones_of } from "../../salon/service/services";
import { shelf } from "../../shelf/shelf";

export const ways_on = open_question("mends");

/** Asks for a zone's ways on, on its hair as judged. */
export function ask_ways_on(zone: Zone, hair: MendRequest["hair"] | null): void {
  const { mix, wish, products = [] } = zone;
  if (!mix || !wish || !hair) return;
  const lines = lines_of_visit(zone);
  const shelved = shelf.value.products.filter(({ line }) => lines.has(line));
  const here = new Set(shelved.map(({ id }) => id));
  ways_on.put({
    hair: on_it_now(hair, { ...mix, minutes: minutes_on(zone) }),
    wish,
    products: [...shelved, ...products.filter(({ id }) => !here.has(id))],
    limits: { count: 3, total_g: 40, step_g: 5 },
  });
}

/**
 * Returns the lines a second mix may be of now: those in this visit's bowls, and those whose alert
 * test this client has on record as clear. Another line would need a test of 48 hours first.
 */
function lines_of_visit({ service = "" }: Zone): Set<string | undefined> {
  const client = one("service", service).value?.client ?? "";
  const mixed = zones_of(service).flatMap(({ products = [] }) => products.map(({ line }) => line));
  const tested = tests_of(client).filter(({ result }) => result === "clear");
  return new Set([...mixed, ...tested.map(({ line }) => line)]);
}

function on_it_now(hair: MendRequest["hair"], mix: Mix): MendRequest["hair"] {
  return { ...hair, also: [], already_on: [...(hair.already_on ?? []), mix] };
}

/** Opens the second mix as a bowl of its own, with the mix on the hair filled in. */
export async function open_second_mix(zone: Zone, { formula }: WayOn): Promise<void> {
  const asked = ways_on.asked.value;
  if (!formula || asked.state !== "answered" || !zone.service) return;
  const { hair, wish, products } = asked.request;
  const { mix, window, predicted } = formula;
  const mixes = [mix, ...(hair.already_on ?? [])];
  const spoken_of = new Set(mixes.flatMap(({ parts }) => parts.map(({ product }) => product)));
  const id = await create("zone", {
    ...{ service: zone.service, work: "toner", order: zones_of(zone.service).length },
    ...{ name: `${zone.name ?? ""}, second mix`, hair, wish, mix, window, predicted },
    products: products.filter((product) => spoken_of.has(product.id)),
    most_minutes: most_minutes_of(mix),
    ...(zone.entered && { entered: with_what_is_on(zone.entered, zone) }),
  });
  await lay_out(id, "mix");
}

/** An entry names one product for each earlier bowl: the one with the most grams. */
function with_what_is_on(was: Entered, zone: Zone): Entered {
  const [most] = [...(zone.mix?.parts ?? [])].sort((a, b) => b.grams - a.grams);
  if (!most) return was;
  const on = { product: most.product, minutes: minutes_on(zone) };
  return { ...was, hair: { ...was.hair, already_on: [...was.hair.already_on, on] } };
}
