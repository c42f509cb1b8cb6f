// Whether a visit was done, and if not, why: in the words that stand on its page, in the history
// and on paper.
import { at_now } from "../../device/when";
import { all, one } from "../../records/read";
import type { Entity } from "../../records/shapes";
import { change } from "../../records/write";

type Service = Entity<"service">;

export type Standing = "planned" | "running" | "rinsed" | "done" | "not_done";

/** Why a visit was not done, where the rules did not hold it. */
export const NOT_DONE = ["did not come", "called it off", "moved to another day", "not today"];

const HOUR_MS = 3_600_000;
/** From the planned time on, in hours, after which a visit that never began was not done. */
const LATE_H = 12;

/** Returns where a visit has come to at a moment. */
export function standing_of(
  { id, state, planned_at, not_done }: Service,
  now_ms: number,
): Standing {
  const begun = all("zone").value.filter(
    ({ service, first_section_at }) => service === id && first_section_at,
  );
  if (begun.length > 0) {
    if (begun.some(({ rinsed_at }) => !rinsed_at) && state !== "ended") return "running";
    return state === "ended" ? "done" : "rinsed";
  }
  if (not_done || state === "ended" || state === "cancelled") return "not_done";
  const planned_ms = Date.parse(planned_at ?? "");
  return now_ms - planned_ms > LATE_H * HOUR_MS ? "not_done" : "planned";
}

const WORDS: Record<Exclude<Standing, "not_done">, string> = {
  planned: "planned",
  running: "on the head now",
  rinsed: "rinsed, result to come",
  done: "done",
};

/** Returns it in words: "not done, held: the alert test is missing". */
export function standing_words(service: Service, now_ms: number): string {
  const standing = standing_of(service, now_ms);
  if (standing !== "not_done") return WORDS[standing];
  const why = service.not_done?.why;
  if (why) return `not done: ${why}`;
  return service.held
    ? `not done, held: ${inside(service.held.words)}`
    : "not done, no reason kept";
}

/** A sentence as it goes on after a colon. */
function inside(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1).replace(/\.$/, "");
}

/** Keeps what holds a service as somebody wants to begin it: later that says why it was not done. */
export async function note_held(
  service: string,
  findings: readonly { id: string; message: string }[],
): Promise<void> {
  const rules = findings.map(({ id }) => id);
  const before = one("service", service).peek()?.held;
  if (rules.length === 0 || before?.rules.join() === rules.join()) return;
  const held = { at: at_now(), rules, words: findings[0]?.message ?? "" };
  await change("service", service, { held }, null);
}

/** Says why a visit was not done. */
export async function put_not_done(service: string, why: string): Promise<void> {
  await change("service", service, { not_done: { at: at_now(), why } }, `Not done: ${why}.`);
}
