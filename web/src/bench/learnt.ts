// What a client's head did before, as part of its description from then on.
import type { Hair } from "../api/shapes";
import type { HairEntry } from "../records/entered";
import { one } from "../records/read";

/** Returns hair as described, with how fast and how much this client's head took colour before. */
export function as_learnt(hair: Hair, client: string | undefined): Hair {
  const { rate, uptake, sure } = one("client", client ?? "").value?.learnt ?? {};
  return {
    ...hair,
    ...(rate !== undefined && { rate }),
    ...(uptake !== undefined && { uptake }),
    ...(sure !== undefined && { sure: sure as NonNullable<Hair["sure"]> }),
  };
}

/** Returns what was entered of a client's hair, as porous as it has since shown to be. */
export function entered_as_learnt(entry: HairEntry, client: string | undefined): HairEntry {
  const porosity = one("client", client ?? "").value?.learnt?.porosity;
  return porosity === undefined ? entry : { ...entry, porosity };
}
