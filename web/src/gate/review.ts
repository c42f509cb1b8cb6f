// Asks the safety rules about a service, and keeps their answer.
import { effect, untracked } from "@preact/signals";
import type { SafetyReviewReply, ServiceReviewRequest } from "../api/shapes";
import { settings } from "../device/settings";
import { rfc3339 } from "../device/when";
import { ask } from "../engine/ask";
import { check_types, one } from "../records/read";
import type { Entity } from "../records/shapes";
import { asked_by } from "./asked";
import { records_of, seen_until } from "./put_forward";
import { gate_of, say } from "./state";

const LONGEST_WAIT_MS = 15_000;
const ASK_AGAIN_MS = 60_000;

/** Returns the whole question about a service at one moment. */
export function request_of(service: Entity<"service">, now_ms: number): ServiceReviewRequest {
  const seen = seen_until();
  return {
    records: records_of(service),
    service: service.id,
    now: rfc3339(now_ms),
    ...(seen && { seen_until: seen }),
    time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    profile: settings.value.profile,
  };
}

function but_for_time({ now: _, ...rest }: ServiceReviewRequest): string {
  return JSON.stringify(rest);
}

const asked = new Map<string, { words: string; asking: AbortController | undefined }>();

/** Asks as the records of a service change, and each minute. Returns the function that stops it. */
export function watch(id: string): () => void {
  return watch_as(id, () => one("service", id).value);
}

/** Asks about a client as about a visit that nobody planned; its answer is under their id. */
export function watch_person(client: string): () => void {
  return watch_as(client, () => visit_of_nobody_yet(client));
}

function visit_of_nobody_yet(client: string): Entity<"service"> | undefined {
  const found = one("client", client).value;
  return (
    found && {
      ...{ id: client, kind: "service", by: found.by },
      created_at: found.created_at,
      client,
    }
  );
}

function watch_as(id: string, about: () => Entity<"service"> | undefined): () => void {
  const put = () => {
    const service = about();
    if (!service) return;
    if (!service.client) {
      const sentence =
        service.purpose === "swatch"
          ? "A swatch takes at most 10 g. For more, plan a client’s visit."
          : "Name the client first. The rules ask about a client.";
      untracked(() => say(id, { is_current: false, sentence }));
      return;
    }
    const request = request_of(service, Date.now());
    untracked(() => void put_request(id, request));
  };
  let end = () => {};
  let ended = false;
  // What is not of its type does not reach the rules unchecked.
  check_types().then(
    () => {
      if (ended) return;
      const stop = effect(put);
      const beat = setInterval(() => untracked(put), ASK_AGAIN_MS);
      end = () => {
        stop();
        clearInterval(beat);
      };
    },
    () => say(id, { is_current: false, sentence: "The safety rules did not load. Try again." }),
  );
  return () => {
    ended = true;
    end();
  };
}

/** Asks about a service now. Returns whether its clock may start; without an answer it may not. */
export async function ask_now(id: string): Promise<boolean> {
  await check_types();
  for (;;) {
    const service = one("service", id).peek();
    if (!service?.client) return false;
    const answer = await put_request(id, request_of(service, Date.now()));
    // A record changed and another question is under way, so this answer no longer counts.
    if (answer !== "overtaken") return answer?.may_start === true;
  }
}

async function put_request(
  id: string,
  request: ServiceReviewRequest,
): Promise<SafetyReviewReply | "overtaken" | undefined> {
  const words = but_for_time(request);
  const before = asked.get(id);
  const same = before?.words === words;
  before?.asking?.abort(new Error("Asked again."));
  const asking = new AbortController();
  asked.set(id, { words, asking });
  // While only time passes, the last answer counts until the next one.
  if (!same) say(id, { ...gate_of(id), is_current: false, sentence: "" });
  const is_last = () => asked.get(id)?.asking === asking;
  try {
    const { reply } = await ask("safety/services", request, {
      signal: asking.signal,
      longest_wait_ms: LONGEST_WAIT_MS,
      first: true,
    });
    if (!is_last()) return "overtaken";
    const service = one("service", id).peek();
    const asked = service && asked_by(service, reply);
    say(id, { reply, ...(asked && { asked }), is_current: true, sentence: "" });
    return reply;
  } catch (why) {
    if (!is_last()) return "overtaken";
    const sentence = why instanceof Error ? why.message : String(why);
    say(id, { ...gate_of(id), is_current: false, sentence });
    return undefined;
  }
}
