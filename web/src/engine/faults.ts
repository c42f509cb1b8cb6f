// What the API says is wrong with a question, by the place it names, so that it can be shown
// beside the field it was entered in.
import { computed } from "@preact/signals";
import type { Fault } from "../api/shapes";
import { bare_hair, formulas, strip, what_ifs } from "./questions";

const QUESTIONS = [formulas, strip, bare_hair, ...Object.values(what_ifs)] as const;

const faults = computed<Fault[]>(() =>
  QUESTIONS.flatMap(({ asked }) => (asked.value.state === "failed" ? asked.value.faults : [])),
);

/** Returns what is wrong at a JSON Pointer, or under it, or undefined where nothing is. */
export function fault_at(pointer: string, depth: "exactly" | "or under" = "or under") {
  return faults.value.find(
    (fault) =>
      fault.pointer === pointer ||
      (depth === "or under" && fault.pointer.startsWith(`${pointer}/`)),
  )?.message;
}
