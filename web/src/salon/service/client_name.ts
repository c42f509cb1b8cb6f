// Whose a service is, in words.
import { one } from "../../records/read";
import type { Entity } from "../../records/shapes";

/** Returns the name of a service's client, for a heading; a swatch has none, and says so. */
export function client_name({ client, purpose }: Entity<"service">): string {
  if (!client && purpose === "swatch") return "A swatch";
  return one("client", client ?? "").value?.name ?? "";
}
