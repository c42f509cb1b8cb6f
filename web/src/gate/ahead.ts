// What will hold a service at its hour, asked of the safety rules days before. The answer opens
// nothing: at the start the gate asks again.
import { signal } from "@preact/signals";
import type { SafetyReviewReply, ServiceReviewRequest } from "../api/shapes";
import { settings } from "../device/settings";
import { rfc3339 } from "../device/when";
import { ask } from "../engine/ask";
import { check_types, one } from "../records/read";
import type { Entity } from "../records/shapes";
import { lines_of } from "../salon/alert_tests/due";
import { lines_in_bowls } from "../salon/service/mixed";
import { lines_booked } from "./booking";
import { records_of, seen_until } from "./put_forward";

const LONGEST_WAIT_MS = 10_000;
/** As time alone passes the rules are asked again after this long. */
const ASK_AGAIN_MS = 10 * 60_000;

/** What the rules last said of a service, or why they did not. */
export interface Ahead {
  reply?: SafetyReviewReply;
  sentence: string;
}

const answers = signal<ReadonlyMap<string, Ahead>>(new Map());
const asked = new Map<string, string>();

/** Returns what the rules said of a service; undefined while they work it out. */
export function ahead_of(service: string): Ahead | undefined {
  return answers.value.get(service);
}

/** Returns the whole question about a planned service; undefined without a client or an hour. */
export function question_ahead(
  service: Entity<"service">,
  now_ms: number,
): ServiceReviewRequest | undefined {
  const { id, client, planned_at } = service;
  if (!client || !planned_at) return undefined;
  const seen = seen_until();
  return {
    records: records_of(service, new Set([...lines_in_bowls(id), ...lines_of(service)])),
    service: id,
    now: rfc3339(now_ms),
    starts_at: rfc3339(Math.max(Date.parse(planned_at), now_ms)),
    ahead: true,
    booking: lines_booked(service),
    ...(seen && { seen_until: seen }),
    time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC",
    profile: settings.value.profile,
  };
}

/** Asks about a service, unless just that was asked a moment ago. */
export async function ask_ahead({ id }: Entity<"service">): Promise<void> {
  await check_types().catch(() => undefined);
  const service = one("service", id).peek();
  if (!service) return;
  const now_ms = Date.now();
  const question = question_ahead(service, now_ms);
  if (!question) return;
  const beat = Math.floor(now_ms / ASK_AGAIN_MS);
  const words = JSON.stringify({ ...question, now: beat });
  if (asked.get(id) === words) return;
  asked.set(id, words);
  const say = (answer: Ahead) => {
    // A later question about it is under way.
    if (asked.get(id) !== words) return;
    answers.value = new Map(answers.peek()).set(id, answer);
  };
  try {
    const { reply } = await ask("safety/services", question, { longest_wait_ms: LONGEST_WAIT_MS });
    say({ reply, sentence: "" });
  } catch (why) {
    say({ sentence: why instanceof Error ? why.message : String(why) });
    asked.delete(id);
  }
}

/**
 * Returns what will hold a service, in the rules' words. What somebody has yet to answer holds
 * nothing before the day, nor does what the salon can look up of a line.
 */
export function will_hold({ findings, questions, alert_test }: SafetyReviewReply): string[] {
  const of_line = new Set(
    questions.filter(({ kept_with }) => kept_with === "line").flatMap(({ closes }) => closes),
  );
  const found = findings
    .filter(({ id, group, certain }) => group !== "good_to_know" && certain && !of_line.has(id))
    .map(({ message }) => message);
  // Which line it must be of, only the mix will say; that there is none is known before.
  if (found.length === 0 && alert_test.state === "missing") return ["No alert test yet."];
  return found;
}
