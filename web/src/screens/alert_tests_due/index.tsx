// The alert tests of the coming days: what is to be read, and who comes whose test is missing or
// lapsing. What a test is worth is asked of the safety rules, service by service.
import { useEffect, useState } from "preact/hooks";
import type { SafetyReviewReply } from "../../api/shapes";
import { ask } from "../../engine/ask";
import { booking_question } from "../../gate/booking";
import { address_of } from "../../place";
import { one, records_ready } from "../../records/read";
import {
  due_ms,
  moment_words,
  stage_of,
  test_words,
  unread,
} from "../../salon/alert_tests/alert_tests";
import { AHEAD_DAYS, coming, lines_of } from "../../salon/alert_tests/due";
import { client_name, type Service } from "../../salon/service/services";
import "./style.css";

const LONGEST_WAIT_MS = 10_000;

type State = SafetyReviewReply["alert_test"];

/** Returns the list. */
export function TestsDue(_: { id: string }) {
  if (!records_ready.value) return <p class="quiet">Opening your records…</p>;
  const now_ms = Date.now();
  return (
    <section class="stack tests-due" aria-labelledby="tests-heading">
      <h2 id="tests-heading">Alert tests</h2>
      <h3>To read</h3>
      {unread.value.length === 0 && <p>No test waits to be read.</p>}
      <ul>
        {unread.value.map((test) => (
          <li key={test.id}>
            <a class="test-row" href={address_of("test", test.id)}>
              <strong>{one("client", test.client ?? "").value?.name || "no name"}</strong>
              <span>
                {test.line}: {test_words(test, now_ms)}
              </span>
              {stage_of(test, now_ms) === "to_read" && (
                <span class="quiet">since {moment_words(due_ms(test))}</span>
              )}
            </a>
          </li>
        ))}
      </ul>
      <h3>Coming in the next {AHEAD_DAYS} days</h3>
      {coming.value.length === 0 && <p>No client is planned.</p>}
      <ul>
        {coming.value.map((service) => (
          <li key={service.id}>
            <Coming service={service} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Coming({ service }: { service: Service }) {
  const [state, put] = useState<State | string>("Working it out…");
  const lines = lines_of(service);
  const question = booking_question(service, Date.now());
  const asked = JSON.stringify(question && { ...question, now: "" });
  useEffect(() => {
    if (!question) return;
    const gone = new AbortController();
    ask("safety/services", question, {
      signal: gone.signal,
      longest_wait_ms: LONGEST_WAIT_MS,
    }).then(
      ({ reply }) => put(reply.alert_test),
      (why: unknown) => {
        if (gone.signal.aborted) return;
        const sentence = why instanceof Error ? why.message : String(why);
        put(`The safety rules did not answer. ${sentence}`);
      },
    );
    return () => gone.abort();
  }, [asked]);
  const words = question
    ? state_words(state)
    : "No mix yet, now or before. Choose a mix to know the line.";
  return (
    <div class="test-row">
      <a class="test-client" href={address_of("service", service.id)}>
        <strong>{client_name(service) || "no name"}</strong>
        <span>
          {moment_words(Date.parse(service.planned_at ?? ""))}
          {lines.length > 0 && `, ${lines.join(", ")}`}
        </span>
      </a>
      <p role="status">{words}</p>
      {wants_a_test(state) && (
        <a class="button" href={address_of("new_test", service.client ?? "")}>
          Put on a test
        </a>
      )}
    </div>
  );
}

function wants_a_test(state: State | string): boolean {
  return typeof state === "string" || ["missing", "other_line", "lapsed"].includes(state.state);
}

/** Returns what the rules say of a test, and until when something can be done about it. */
function state_words(state: State | string): string {
  if (typeof state === "string") return state;
  const by = state.apply_by ? ` Put a new one on by ${said(state.apply_by)}.` : "";
  switch (state.state) {
    case "not_needed":
      return "This needs no test.";
    case "clear":
      return state.last_day ? `Clear. It holds until ${state.last_day}.` : "Clear.";
    case "too_soon":
      return `On, but too new at that time.${state.ready_at ? ` Ready: ${said(state.ready_at)}.` : ""}`;
    case "unread":
      return "On, but nobody has read it.";
    case "reacted":
      return "A test reacted. Do not use this line.";
    case "lapsed":
      return `It will have run out.${by}`;
    case "other_line":
      return `Tested only with another line.${by}`;
    case "missing":
      return `No test.${by}`;
    default:
      return "Answer the service’s safety questions first.";
  }
}

function said(moment: string): string {
  return moment_words(Date.parse(moment));
}
