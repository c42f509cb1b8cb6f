// Whether the screen is wide enough for the strip to lie on its side.
import { signal } from "@preact/signals";

const wide_enough = globalThis.matchMedia?.("(min-width: 37.5rem)");

/** True where several strips can lie under one another on one time axis. */
export const has_room = signal(wide_enough?.matches ?? false);
wide_enough?.addEventListener("change", () => {
  has_room.value = wide_enough.matches;
});
