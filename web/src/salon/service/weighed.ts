// What the scale shows for a zone: from the first pour on, and at the latest once its first section
// is on, that is its mix, on every screen and on paper.
import type { Mix } from "../../api/shapes";
import type { Entity } from "../../records/shapes";
import { change } from "../../records/write";

type Zone = Entity<"zone">;

/** What the ladder of a zone last showed, and the mix it was worked out from. */
const shown = new Map<string, { from: string; mix: Mix }>();

/** Returns the mix that amounts are worked out from: as chosen, whatever was weighed of it since. */
export function chosen_mix_of({ mix, mix_chosen }: Zone): Mix | undefined {
  return mix && (mix_chosen ?? mix);
}

/** Notes what the ladder of a zone shows. */
export function note_shown(zone: Zone, mix: Mix): void {
  shown.set(zone.id, { from: JSON.stringify(chosen_mix_of(zone)), mix });
}

/** Returns what makes a zone's mix what its ladder showed; nothing where it is, or none was shown. */
export function weighed_fields(zone: Zone): { mix?: Mix; mix_chosen?: Mix } {
  const chosen = chosen_mix_of(zone);
  const last = shown.get(zone.id);
  if (!chosen || last?.from !== JSON.stringify(chosen)) return {};
  if (JSON.stringify(last.mix) === JSON.stringify(zone.mix)) return {};
  return { mix: last.mix, mix_chosen: chosen };
}

/** Takes the mix as the ladder shows it: from then on that is what is on the hair. */
export async function keep_as_weighed(zone: Zone, said: string): Promise<void> {
  const fields = weighed_fields(zone);
  if (!fields.mix || zone.first_section_at) return;
  await change("zone", zone.id, fields, said);
}
