// Who wrote something, by the name the salon knows: a person, or the phone it was written on.
import { computed } from "@preact/signals";
import { all } from "../records/read";

const names = computed(
  () =>
    new Map(
      [...all("device").value, ...all("person").value].map(({ id, name }) => [id, name ?? ""]),
    ),
);

/** Returns the name of who wrote something. */
export function who_words(by: string): string {
  return names.value.get(by) || "another phone";
}
