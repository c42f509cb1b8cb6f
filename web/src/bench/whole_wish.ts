// Whether the wish is whole enough to ask with.
import { computed } from "@preact/signals";
import { wish_entry } from "./entries";
import { wish_of } from "./requests";

/** Whether there is a whole wish to ask with. */
export const has_wish = computed(() => wish_of(wish_entry.value) !== null);

/** What to do first while the wish is not whole. */
export const wish_missing = computed(() =>
  wish_entry.value.by_reading ? "Type the reading first" : "Tap a tone first",
);
