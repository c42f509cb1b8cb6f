// Who will be held on a coming day, while it can still be mended: in the words of the safety rules.
import { effect } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { SafetyReviewReply } from "../../api/shapes";
import { day_in_words, days_on } from "../../device/when";
import { ahead_of, ask_ahead, will_hold } from "../../gate/ahead";
import { time_of_day } from "../../parts/words";
import { address_of } from "../../place";
import { moment_words, tests_of } from "../../salon/alert_tests/alert_tests";
import { services_on } from "../../salon/service/day";
import { client_name, type Service } from "../../salon/service/services";
import { today } from "./today";

const BEAT_MS = 60_000;

type State = SafetyReviewReply["alert_test"];

/** Returns the day's visits that will be held, each with its next step; nothing without visits. */
export function HeldAhead({ day }: { day: string }) {
  useEffect(() => {
    const put = () => {
      for (const service of open_on(day)) void ask_ahead(service);
    };
    const end = effect(put);
    const beat = setInterval(put, BEAT_MS);
    return () => {
      end();
      clearInterval(beat);
    };
  }, [day]);
  const services = open_on(day);
  if (services.length === 0) return null;
  const words = day === days_on(today.value, 1) ? "Tomorrow" : day_in_words(day, today.value);
  const rows = services.filter((service) => to_show(service));
  return (
    <section class="ahead" aria-labelledby="ahead-heading">
      <h3 id="ahead-heading">
        {words}: {count_words(services)}
      </h3>
      <ul>
        {rows.map((service) => (
          <li key={service.id}>
            <Row service={service} />
          </li>
        ))}
      </ul>
      <Unanswered services={services} />
    </section>
  );
}

/** The visits of clients that are planned still. */
function open_on(day: string): Service[] {
  return services_on(day).filter(
    ({ state, purpose, not_done }) =>
      state === "planned" && (purpose ?? "client") === "client" && !not_done,
  );
}

function holds_of({ id }: Service): string[] {
  const reply = ahead_of(id)?.reply;
  return reply ? will_hold(reply) : [];
}

/** A test that will be old enough by then, and waits to be read, is shown too. */
function to_show(service: Service): boolean {
  return holds_of(service).length > 0 || ahead_of(service.id)?.reply?.alert_test.state === "unread";
}

function count_words(services: readonly Service[]): string {
  const held = services.filter((service) => holds_of(service).length > 0).length;
  const visits = `${services.length} ${services.length === 1 ? "visit" : "visits"}`;
  if (held > 0) return `${held} of ${visits} will be held`;
  const all_known = services.every(({ id }) => ahead_of(id)?.reply);
  return all_known ? `${visits}, none held so far` : visits;
}

function Row({ service }: { service: Service }) {
  const { id, client = "", planned_at = "" } = service;
  const test = ahead_of(id)?.reply?.alert_test;
  const holds = holds_of(service);
  return (
    <div class="ahead-row">
      <a href={address_of("service", id)}>
        <span>
          <strong>
            {client_name(service) || "no name yet"}, {time_of_day(Date.parse(planned_at))}.
          </strong>{" "}
          {holds.join(" ")} {test && next_words(test)}
        </span>
      </a>
      {test && <TestLink client={client} test={test} />}
    </div>
  );
}

/** What can still be done about the test until then, by the rules' own times. */
function next_words({ state, apply_by, ready_at }: State): string {
  if (state === "unread") {
    return ready_at ? `Read the test from ${moment_words(Date.parse(ready_at))}.` : "";
  }
  if (!wants_a_test(state) || !apply_by) return "";
  const at_ms = Date.parse(apply_by);
  return at_ms > Date.now()
    ? `Put a new one on by ${moment_words(at_ms)}.`
    : "Too late for a new one by then: move the visit.";
}

function wants_a_test(state: State["state"]): boolean {
  return state === "missing" || state === "other_line" || state === "lapsed";
}

/** The one tap to the client's test: to a new one, or to the one that waits. */
function TestLink({ client, test: { state } }: { client: string; test: State }) {
  const [latest] = tests_of(client);
  if (wants_a_test(state)) {
    return (
      <a class="button" href={address_of("new_test", client)}>
        Put on a test
      </a>
    );
  }
  if ((state !== "unread" && state !== "too_soon" && state !== "reacted") || !latest) return null;
  return (
    <a class="button" href={address_of("test", latest.id)}>
      Look at the test
    </a>
  );
}

function Unanswered({ services }: { services: readonly Service[] }) {
  const waiting = services.some(({ id }) => !ahead_of(id));
  const sentence = services.map(({ id }) => ahead_of(id)?.sentence).find(Boolean);
  if (waiting) return <p class="quiet">Working out who will be held…</p>;
  return sentence ? <p role="status">The safety rules did not answer. {sentence}</p> : null;
}
