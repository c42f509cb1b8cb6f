// What is open at the basin: the words of one of several zones, or the price of an early rinse.
import { batch, signal } from "@preact/signals";
import { whole_page } from "../../salon/service/basin";

/** The zone whose look words are open, where several are on; empty for the overview. */
export const looked_at_zone = signal("");
/** The zone that is about to be rinsed too early; empty for none. */
export const early_zone = signal("");
/** The product of a mix in whose place another tube went in, while it is asked which; empty for none. */
export const tube_asked = signal("");
/** Stands for any product of the mix, where nothing says whose place another tube has taken. */
export const ANY_TUBE = "any";

/** Opens the basin as it opens first. */
export function open_basin(): void {
  batch(() => {
    whole_page.value = "";
    looked_at_zone.value = "";
    early_zone.value = "";
    tube_asked.value = "";
  });
}
