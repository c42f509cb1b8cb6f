// The tap that starts a clock. Its code comes once the page is open, before anybody needs it.
import { all_is_open } from "../../parts/later";
import type { Zone } from "../../salon/service/services";

const beginning = () => import("../../salon/service/begin");
void all_is_open()
  .then(beginning)
  .catch(() => undefined);

/** The first section has its mix: the maker's time runs from here. */
export async function first_section_on(zone: Zone): Promise<void> {
  await (await beginning()).first_section_on(zone);
}
