// The API's faults in a question, by their place, to show each beside its field.
import { computed } from "@preact/signals";
import type { Fault } from "../api/shapes";
import { bare_hair, formulas, strip, what_ifs } from "./questions";

const QUESTIONS = [formulas, strip, bare_hair, ...Object.values(what_ifs)] as const;

const faults = computed<Fault[]>(() =>
  QUESTIONS.flatMap(({ asked }) => (asked.value.state === "failed" ? asked.value.faults : [])),
);

/** Returns the fault at a JSON Pointer, or under it, or undefined. */
export function fault_at(pointer: string, depth: "exactly" | "or under" = "or under") {
  return faults.value.find(
    (fault) =>
      fault.pointer === pointer ||
      (depth === "or under" && fault.pointer.startsWith(`${pointer}/`)),
  )?.message;
}
