// The basin: one screen for the zones whose last section is on, until each of them is rinsed.
import { signal } from "@preact/signals";
import { type Running, running } from "./running";

/** The service whose whole page is open in the place of its basin; empty for none. */
export const whole_page = signal("");

/** Returns the zones of a service that are on and wait for their rinse, the one due first on top. */
export function at_the_basin(service: string): readonly Running[] {
  return running.value.filter(
    (clock) => clock.service === service && clock.is_on && !clock.checks_min,
  );
}

/** Whether the basin is what the page of a service shows. */
export function basin_is_open(service: string): boolean {
  return whole_page.value !== service && at_the_basin(service).length > 0;
}
