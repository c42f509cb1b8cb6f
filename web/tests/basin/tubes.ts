// Another tube went in than was chosen: the zone's bowl has it, and the block of the start does not.
import { expect } from "vitest";
import type { Product } from "../../src/api/shapes";
import type { Zone } from "../../src/salon/service/services";
import type { Page } from "./page";

/** Says of a zone that another tube of the shelf went in; returns whether there was one. */
export async function say_other_tube(
  page: Page,
  { id }: Pick<Zone, "id">,
  pick: <T>(of: readonly T[]) => T,
): Promise<boolean> {
  const zone = page.one("zone", id).peek() as Zone;
  const before = zone.mix?.parts ?? [];
  const meant = pick(before).product;
  const tube: Product | undefined = pick(page.tubes_in_place_of(zone, meant));
  if (!tube) return false;
  await page.put_other_tube(zone, meant, tube);
  const now = page.one("zone", id).peek() as Zone;
  const parts = before.map((part) =>
    part.product === meant ? { ...part, product: tube.id } : part,
  );
  expect(now.mix?.parts, "the bowl").toEqual(parts);
  const start = page.starts_of(zone.service ?? "").findLast((one) => one.zone === id);
  const frozen = start?.bowl?.parts.map(({ product }) => product);
  const differ = parts.filter(({ product }, place) => product !== frozen?.[place]).length;
  expect(page.found_tubes(now, start).size, "what paper says was found").toBe(differ);
  return true;
}
