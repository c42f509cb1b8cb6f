// Whether there is room for two things side by side.
import { signal } from "@preact/signals";

const wide_enough = globalThis.matchMedia?.("(min-width: 68rem)");

/** True from 68rem on, where a page may stand in columns. */
export const wide = signal(wide_enough?.matches ?? false);
wide_enough?.addEventListener("change", () => {
  wide.value = wide_enough.matches;
});
