// Names a record in words.
import { kind_words } from "../records/fold";
import { one } from "../records/read";
import type { Entity } from "../records/shapes";

/** Returns a record's name: "product: 9V", "alert test: Wren Aldous". */
export function record_words(record: Entity): string {
  const { name, code, client, service } = record as {
    name?: string;
    code?: string;
    client?: string;
    service?: string;
  };
  const whose = client ?? one("service", service ?? "").value?.client ?? "";
  const words = [name ?? code, one("client", whose).value?.name].filter(Boolean).join(", ");
  return words ? `${kind_words(record.kind)}: ${words}` : kind_words(record.kind);
}

/** Returns what somebody should look at in a record: "name: two people wrote it". */
export function asks_words({ heads = {}, unread = {}, edited_meanwhile }: Entity): string {
  if (edited_meanwhile) return "deleted, but edited meanwhile";
  const apart = `${listed(heads)}: two people wrote it`;
  const unreadable = `${listed(unread)}: cannot be read`;
  const [has_apart, has_unreadable] = [heads, unread].map((of) => Object.keys(of).length > 0);
  return [has_apart && apart, has_unreadable && unreadable].filter(Boolean).join("; ");
}

function listed(fields: Record<string, unknown>): string {
  const names = Object.keys(fields).map((field) => field.replaceAll("_", " ").replace(".", ": "));
  return names.join(", ");
}
