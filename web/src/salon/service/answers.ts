// What was answered for a service: asked fresh at this visit, or said by the client before.
import { one } from "../../records/read";
import type { Answer, Entity } from "../../records/shapes";

export type Answers = Readonly<Record<string, Answer>>;

/** Returns the answers on a service by the fact; a colon and a test's id follow one about a test. */
export function answers_of(service: Entity<"service">): Answers {
  const client = one("client", service.client ?? "").value;
  return { ...client?.answers, ...(service.facts as Answers | undefined) };
}
