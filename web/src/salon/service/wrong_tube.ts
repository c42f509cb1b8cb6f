// Another tube went into a bowl than the one that was chosen: from then on the zone's mix is what is
// on the hair. The block kept at its start stays as it was.
import type { Mix, Product } from "../../api/shapes";
import { at_now, MINUTE_MS, rfc3339 } from "../../device/when";
import { written_last } from "../../records/read";
import { new_id, together } from "../../records/write";
import { may_share_a_bowl, product_of, product_words, shelf, tube_words } from "../../shelf/shelf";
import { most_minutes_of, type Zone } from "./services";
import { bowl_of, type Start } from "./start";

/** Returns the tubes that a hand may have put into a zone's bowl for one of its mix. */
export function tubes_in_place_of({ mix, products = [] }: Zone, meant: string): Product[] {
  const known = [...products, ...shelf.value.products];
  const find = (id: string) => known.find((product) => product.id === id);
  const planned = find(meant);
  const beside = (mix?.parts ?? []).flatMap(({ product }) =>
    product === meant ? [] : (find(product) ?? []),
  );
  const here = new Set(mix?.parts.map(({ product }) => product));
  return shelf.value.products.filter(
    (tube) =>
      !here.has(tube.id) &&
      tube.class === planned?.class &&
      beside.every((other) => may_share_a_bowl(tube, other)),
  );
}

const IN_PLACE_OF = " went in, not ";

/** Returns the tube that an act says went in, by its name: "Still 8 violet"; nothing for others. */
export function tube_said(act: string): string | undefined {
  const at = act.indexOf(IN_PLACE_OF);
  return at < 0 ? undefined : act.slice(0, at);
}

/** Puts another tube into a zone's mix: strip, minutes and the maker's time follow from it. */
export async function put_other_tube(zone: Zone, meant: string, tube: Product): Promise<void> {
  const { id, service = "", name = "", mix, mix_chosen, products = [] } = zone;
  if (!mix) return;
  const known = [...products.filter((one) => one.id !== tube.id), tube];
  const in_bowl = (of: Mix): Mix => ({
    ...of,
    parts: of.parts.map((part) => (part.product === meant ? { ...part, product: tube.id } : part)),
  });
  const most_minutes = most_minutes_of(
    in_bowl(mix),
    (product) => known.find((one) => one.id === product) ?? product_of(product),
  );
  const swapped = (of: Mix): Mix => ({
    ...in_bowl(of),
    minutes: Math.min(of.minutes, most_minutes),
  });
  const first_ms = Date.parse(zone.first_section_at ?? at_now());
  const said = `${name}: ${product_words(tube.id)}${IN_PLACE_OF}${product_words(meant)}`;
  await together(
    [
      {
        do: "change",
        kind: "zone",
        id,
        fields: {
          mix: swapped(mix),
          ...(mix_chosen && { mix_chosen: swapped(mix_chosen) }),
          products: known,
          most_minutes,
          deadline_at: rfc3339(first_ms + most_minutes * MINUTE_MS),
        },
      },
      {
        do: "create",
        kind: "step",
        id: new_id(),
        fields: { service, what: said, at: at_now() },
      },
    ],
    `${said}.`,
  );
}

/** A tube that was found in the bowl after the start, in the place of another. */
export interface FoundTube {
  name: string;
  instead_of: string;
  at: string;
  by: string;
}

/** Returns what was found in a zone's bowl since its start, by the product that was planned. */
export function found_tubes(zone: Zone, start: Start | undefined): ReadonlyMap<string, FoundTube> {
  const planned = start?.bowl?.parts ?? [];
  const found = bowl_of(zone)?.parts ?? [];
  const { at, by } = written_last(zone.id, "mix") ?? { at: "", by: "" };
  return new Map(
    planned.flatMap((part, place) => {
      const now = found[place];
      if (!now || found.length !== planned.length || now.product === part.product) return [];
      const tube = { name: tube_words(now), instead_of: tube_words(part), at, by };
      return [[part.product, tube] as const];
    }),
  );
}
