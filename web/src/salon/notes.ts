// The notes of a service, and how records of which a later one corrects an earlier are read.
import { computed } from "@preact/signals";
import { all } from "../records/read";
import type { Entity } from "../records/shapes";

export type Note = Entity<"note">;

const notes_by_service = computed(() => grouped(all("note").value, ({ service }) => service));

/** Returns the notes of a service, in the order of writing. */
export function notes_of_service(service: string): readonly Note[] {
  return not_corrected(notes_by_service.value.get(service) ?? []);
}

/** Leaves out records that a later one of the same kind corrects. */
export function not_corrected<R extends { id: string; corrects?: string | undefined }>(
  found: readonly R[],
): R[] {
  const corrected = new Set(found.map(({ corrects }) => corrects));
  return found.filter(({ id }) => !corrected.has(id));
}

/** Returns records by their key; those without one are left out. */
export function grouped<R>(
  records: readonly R[],
  key: (record: R) => string | undefined,
): Map<string, R[]> {
  const groups = new Map<string, R[]>();
  for (const record of records) {
    const of = key(record);
    if (!of) continue;
    const group = groups.get(of);
    if (group) group.push(record);
    else groups.set(of, [record]);
  }
  return groups;
}
