// Which zone of a service is on the page, and which of its sections is open.
import { bench_zone } from "../../records/bench";
import { open_section, type Section } from "../../records/entries";
import { type Service, type Zone, zones_of } from "../../records/services";

/** The zone of a service that is open on the page; its first where none was opened. */
export function zone_shown(service: Service): Zone | undefined {
  const zones = zones_of(service.id);
  return zones.find(({ id }) => id === bench_zone.value) ?? zones[0];
}

/** Where a zone has come to. */
export function section_of(zone: Zone): Section {
  if (zone.rinsed_at) return "result";
  if (zone.first_section_at) return "strip";
  return zone.mix ? "mix" : "wish";
}

/** The section that is open: the one tapped, or where the zone has come to. */
export function section_shown(zone: Zone): Section {
  return bench_zone.value === zone.id ? open_section.value : section_of(zone);
}
