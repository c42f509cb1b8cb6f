// Which planned clients' alert tests are to be looked at before they come, and with which lines.
import { computed } from "@preact/signals";
import { all } from "../../records/read";
import { product_of } from "../../shelf/shelf";
import { last_service, type Service, zones_of } from "../service/services";

const DAY_MS = 24 * 3_600_000;
/** How far ahead is looked: a test takes two days, and somebody has to come in for it. */
export const AHEAD_DAYS = 3;

/** The clients' services still to begin, of the coming days, the next first. */
export const coming = computed<readonly Service[]>(() => {
  const now_ms = Date.now();
  return all("service")
    .value.filter(({ state, purpose, planned_at }) => {
      const at_ms = Date.parse(planned_at ?? "");
      const open = state === "planned" && (purpose ?? "client") === "client";
      return open && at_ms >= now_ms - DAY_MS / 2 && at_ms <= now_ms + AHEAD_DAYS * DAY_MS;
    })
    .sort((a, b) => Date.parse(a.planned_at ?? "") - Date.parse(b.planned_at ?? ""));
});

/** Returns the lines a service is to be done with: its own mixes', or those of the last visit. */
export function lines_of(service: Service): readonly string[] {
  const own = lines_mixed(service.id);
  if (own.length > 0) return own;
  const before = service.client && last_service(service.client);
  return before ? lines_mixed(before.id) : [];
}

function lines_mixed(service: string): string[] {
  const products = zones_of(service).flatMap((zone) =>
    (zone.mix?.parts ?? []).map(({ product }) => {
      const kept = zone.products?.find(({ id }) => id === product);
      return kept?.line ?? product_of(product)?.line;
    }),
  );
  return [...new Set(products.flatMap((line) => line ?? []))];
}
