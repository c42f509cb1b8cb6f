// What is mixed in a service and not rinsed yet: its zones, and the lines in their bowls.
import type { Product } from "../../api/shapes";
import type { Entity } from "../../records/shapes";
import { is_mixed } from "./lightening";
import { zones_of } from "./services";

type Zone = Entity<"zone">;

/** Returns the zones of a service whose mix is not rinsed yet. */
export function mixed_zones(service: string): readonly Zone[] {
  return zones_of(service).filter((zone) => is_mixed(zone) && !zone.rinsed_at);
}

/** Whether all that was mixed in a service is rinsed, so that nothing is left to hold. */
export function is_rinsed(service: string): boolean {
  return zones_of(service).some((zone) => zone.rinsed_at) && mixed_zones(service).length === 0;
}

/** Returns the lines in a service's bowls, each once; a lightener, on no shelf, goes by its kind. */
export function lines_in_bowls(service: string): string[] {
  const zones = mixed_zones(service);
  const lighteners = zones.flatMap(({ work, lightener }) =>
    work === "lightener" && lightener ? [`lightener ${lightener.kind}`] : [],
  );
  const lines = zones.flatMap((zone) => in_bowl(zone).map(({ line }) => line));
  return [...new Set([...lighteners, ...lines])];
}

function in_bowl({ mix, products = [] }: Zone): readonly Product[] {
  const parts = new Set(mix?.parts.map(({ product }) => product));
  return products.filter(({ id }) => parts.has(id));
}
