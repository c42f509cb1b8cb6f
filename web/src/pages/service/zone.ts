// Which zone of a service is on the page, and which of its sections is open.
import { bench_zone, lay_out } from "../../bench/bench";
import { open, open_section, type Section } from "../../bench/entries";
import { type Service, section_of, type Zone, zones_of } from "../../salon/service/services";

/** The zone of a service that is open on the page; its first where none was opened. */
export function zone_shown(service: Service): Zone | undefined {
  const zones = zones_of(service.id);
  return zones.find(({ id }) => id === bench_zone.value) ?? zones[0];
}

/** The section that is open: the one tapped, or where the zone has come to. */
export function section_shown(zone: Zone): Section {
  return bench_zone.value === zone.id ? open_section.value : section_of(zone);
}

const ORDER: readonly Section[] = ["wish", "hair", "mix", "strip", "result"];
let page_is_new = true;

/**
 * Lays out a zone where it has come to. What a killed browser remembers of the open section may be
 * older than the record, so a page that was just opened is never further back than the record is:
 * a clock that runs would be out of sight.
 */
export async function lay_out_zone(zone: Zone): Promise<void> {
  const at = section_of(zone);
  const behind = ORDER.indexOf(open_section.peek()) < ORDER.indexOf(at);
  if (page_is_new && behind && bench_zone.peek() === zone.id) open(at);
  page_is_new = false;
  await lay_out(zone.id, at);
}

/** Opens a section that was tapped; the zone may be on the page a moment before it is laid out. */
export async function open_in(zone: Zone, section: Section): Promise<void> {
  if (bench_zone.peek() !== zone.id) await lay_out(zone.id, section_of(zone));
  open(section);
}

let followed: { id: string; at: Section } | undefined;

/** Opens what a zone has come to on another phone: a clock that was started there is in sight here. */
export function follow_zone(zone: Zone): void {
  const at = section_of(zone);
  const before = followed;
  followed = { id: zone.id, at };
  const moved = before?.id === zone.id && before.at !== at;
  const behind = ORDER.indexOf(open_section.peek()) < ORDER.indexOf(at);
  if (moved && behind && zone.first_section_at && bench_zone.peek() === zone.id) open(at);
}
